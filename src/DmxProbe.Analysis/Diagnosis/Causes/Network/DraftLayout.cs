namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: the layout of the draft before sACN was ratified.</summary>
internal sealed class DraftLayout() : FindingCause(
    new CauseCard("draft-layout", CauseGroup.Network, "the layout of the draft before sACN was ratified")
    {
        Needs = [CauseInputs.Network],
        Test = "Packets in the layout of the draft before E1.31 was ratified.",
        NotSeen = "No packet is in the draft's layout.",
        Fix = "Switch the sender to ratified sACN if it can.",
        Check = new NextCheck("Look at the protocol setting of the sender.", 30),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Rare,
    },
    "draft-layout");
