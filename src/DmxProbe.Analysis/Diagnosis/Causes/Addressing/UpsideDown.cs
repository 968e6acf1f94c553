namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: display read upside down.</summary>
internal sealed class UpsideDown() : LocateCause(
    new CauseCard("display-upside-down", CauseGroup.Addressing, "display read upside down")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Set the address of the sheet; turn the display if the unit can.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Frequency = CauseFrequency.Rare,
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "read upside down");
