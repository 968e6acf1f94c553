namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: the sheet counts other slots than the chart.</summary>
internal sealed class FootprintDiffers() : SheetFindingCause(
    new CauseCard("footprint-differs", CauseGroup.Addressing, "the sheet counts other slots than the chart")
    {
        Needs = [CauseInputs.Sheet],
        Test = "The footprint that the sheet states is not that of the chart's mode.",
        NotSeen = "Footprints of sheet and charts agree.",
        Explains = ["address-overlap"],
        Fix = "Set the unit to the mode of the sheet, or mend the sheet; then number the rest.",
        Check = new NextCheck("Read the mode off the unit.", 60),
        Cautions = [Caution.Setting],
        Frequency = CauseFrequency.Common,
    },
    "footprint-differs");
