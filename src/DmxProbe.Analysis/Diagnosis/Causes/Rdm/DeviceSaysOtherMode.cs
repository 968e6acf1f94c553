namespace DmxProbe.Analysis.Diagnosis.Causes.Rdm;

/// <summary>Cause: the unit itself says another mode.</summary>
internal sealed class DeviceSaysOtherMode() : RdmSheetCause(
    new CauseCard("rdm-mode-differs", CauseGroup.Mode, "the unit itself says another mode")
    {
        Needs = [CauseInputs.Rdm | CauseInputs.Sheet],
        Test = "An RDM device at the address of a unit says another footprint than the mode of the sheet has.",
        Fix = "Set the mode of the sheet, or patch the type in the mode it is in.",
        Check = new NextCheck("Read it off the unit's display.", 60, Ladder: true),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Setting],
    },
    "rdm-mode-differs");
