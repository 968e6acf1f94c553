namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: packets in IP fragments.</summary>
internal sealed class Fragments() : FindingCause(
    new CauseCard("fragmented-packets", CauseGroup.Network, "packets in IP fragments")
    {
        Needs = [CauseInputs.Network],
        Test = "Lighting packets cut into IP fragments.",
        NotSeen = "No lighting packet came in fragments.",
        Explains = ["universe-not-sent", "packet-loss"],
        Fix = "Look for a tunnel or a router with a small packet size between sender and receiver.",
        Check = new NextCheck("Ask what is between sender and receiver.", 60),
        Frequency = CauseFrequency.Rare,
    },
    "fragmented-packets");
