namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: one name for two units.</summary>
internal sealed class DuplicateUnit() : SheetFindingCause(
    new CauseCard("duplicate-unit", CauseGroup.Addressing, "one name for two units")
    {
        Needs = [CauseInputs.Sheet],
        Test = "A name stands twice on the sheet.",
        NotSeen = "Every unit has a name of its own.",
        Fix = "Give each unit a name of its own.",
        Check = new NextCheck("Look which of them is meant.", 15),
        Frequency = CauseFrequency.Rare,
    },
    "duplicate-unit");
