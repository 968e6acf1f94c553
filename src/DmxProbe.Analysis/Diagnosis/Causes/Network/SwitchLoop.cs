namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a loop in the network.</summary>
internal sealed class SwitchLoop() : FindingCause(
    new CauseCard("network-loop", CauseGroup.Network, "a loop in the network")
    {
        Needs = [CauseInputs.Network],
        Test = "The same packet more than ten times within a second (common practice, no source).",
        NotSeen = "No packet goes round.",
        Explains = ["packet-loss", "repeated-packets", "packets-out-of-order"],
        Fix = "Look for a cable that joins two ports of the same switch, or two ways between switches; take one out.",
        Check = new NextCheck("Look at the lights of the switches: all flash together.", 30),
        Cautions = [Caution.Unplugging],
        Frequency = CauseFrequency.Rare,
    },
    "switch-loop");
