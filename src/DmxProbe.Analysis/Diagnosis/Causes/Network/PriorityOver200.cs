namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a priority over 200.</summary>
internal sealed class PriorityOver200() : FindingCause(
    new CauseCard("priority-over-200", CauseGroup.Network, "a priority over 200")
    {
        Needs = [CauseInputs.Network],
        Test = "sACN priority above 200 (E1.31-2018 6.2.3: shall not be sent).",
        NotSeen = "Every sACN priority is 200 or less.",
        Fix = "Set a priority between 0 and 200 at the sender.",
        Check = new NextCheck("Look at the priority setting of the sender.", 30),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Rare,
    },
    "sacn-priority-over-200");
