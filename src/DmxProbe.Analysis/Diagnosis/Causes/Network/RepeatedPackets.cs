namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: packets come twice.</summary>
internal sealed class RepeatedPackets() : FindingCause(
    new CauseCard("repeated-packets", CauseGroup.Network, "packets come twice")
    {
        Needs = [CauseInputs.Network],
        Test = "Packets with the sequence number of the one before.",
        NotSeen = "No packet came twice.",
        Fix = "Most often the capture sees both directions of a port; else look for two paths.",
        Check = new NextCheck("Look at how the mirror port is set.", 60),
        Frequency = CauseFrequency.Rare,
    },
    "repeated-packets");
