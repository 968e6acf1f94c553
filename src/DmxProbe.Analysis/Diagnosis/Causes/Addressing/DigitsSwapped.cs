namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: digits of the address swapped.</summary>
internal sealed class DigitsSwapped() : LocateCause(
    new CauseCard("digits-swapped", CauseGroup.Addressing, "digits of the address swapped")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Set the address of the sheet.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "digits swapped");
