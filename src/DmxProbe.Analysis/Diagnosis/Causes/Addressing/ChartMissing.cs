namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: type or mode without a chart.</summary>
internal sealed class ChartMissing() : SheetFindingCause(
    new CauseCard("chart-missing", CauseGroup.Addressing, "type or mode without a chart")
    {
        Needs = [CauseInputs.Sheet],
        Test = "The sheet names a type or mode of which there is no chart.",
        NotSeen = "Every unit has its chart.",
        Fix = "Put the chart beside the sheet.",
        Check = new NextCheck("Look for the chart of this type.", 60),
    },
    "unknown-type",
    "unknown-mode");
