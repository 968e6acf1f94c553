namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: packets that cannot be read.</summary>
internal sealed class MalformedPackets() : FindingCause(
    new CauseCard("malformed-packets", CauseGroup.Network, "packets that cannot be read")
    {
        Needs = [CauseInputs.Network, CauseInputs.Serial],
        Test = "Packets on lighting ports whose bytes contradict their own layout.",
        NotSeen = "Every lighting packet can be read.",
        Explains = ["universe-not-sent", "packet-loss"],
        Fix = "Find what sends them: the first one names its address.",
        Check = new NextCheck("Open the first of them with a general capture tool.", 120),
        Frequency = CauseFrequency.Rare,
    },
    "malformed-packets");
