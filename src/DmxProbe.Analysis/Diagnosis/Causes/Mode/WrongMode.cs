namespace DmxProbe.Analysis.Diagnosis.Causes.Mode;

/// <summary>Cause: unit in another mode.</summary>
internal sealed class WrongMode() : LocateCause(
    new CauseCard("wrong-mode", CauseGroup.Mode, "unit in another mode")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Set the mode of the sheet, or patch the type in the mode it is in.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "in mode");
