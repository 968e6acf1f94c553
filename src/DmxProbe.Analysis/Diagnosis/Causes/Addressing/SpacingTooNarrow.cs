namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: units are spaced too narrowly.</summary>
internal sealed class SpacingTooNarrow() : SheetFindingCause(
    new CauseCard("spacing-too-narrow", CauseGroup.Addressing, "units are spaced too narrowly")
    {
        Needs = [CauseInputs.Sheet],
        Test = "Equal units stand nearer to each other than their footprint.",
        NotSeen = "Equal units are spaced by their footprint or more.",
        Explains = ["address-overlap", "footprint-differs"],
        Fix = "Space them by their footprint.",
        Check = new NextCheck("Read the mode off one of them.", 60),
        Cautions = [Caution.Setting],
    },
    "spacing-too-narrow");
