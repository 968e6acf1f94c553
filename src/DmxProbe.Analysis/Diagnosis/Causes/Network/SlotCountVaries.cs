namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: the number of slots changes from frame to frame.</summary>
internal sealed class SlotCountVaries() : FindingCause(
    new CauseCard("slot-count-varies", CauseGroup.Network, "the number of slots changes from frame to frame")
    {
        Needs = [CauseInputs.Network, CauseInputs.Line, CauseInputs.Serial],
        Test = "One sender sends frames of different slot counts.",
        NotSeen = "Every sender keeps to one slot count.",
        Fix = "Set the sender to a fixed number of slots.",
        Check = new NextCheck("See whether the units that lag sit above the shorter count.", 20),
    },
    "slot-count-varies");
