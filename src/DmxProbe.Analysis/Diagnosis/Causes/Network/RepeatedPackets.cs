namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: packets come twice.</summary>
internal sealed class RepeatedPackets() : FindingCause(
    new CauseCard("repeated-packets", CauseGroup.Network, "packets come twice")
    {
        Needs = [CauseInputs.Network],
        Test = "The same packet again: at two places of the capture, or sent twice; or packets with the sequence number of the one before.",
        NotSeen = "No packet came twice.",
        Explains = ["rate-above-line"],
        Fix = "Most often the capture sees both directions of a port; else look for two paths.",
        Check = new NextCheck("Look at how the mirror port is set.", 60),
        Frequency = CauseFrequency.Rare,
    },
    "packets-captured-twice",
    "packets-sent-twice",
    "repeated-packets");
