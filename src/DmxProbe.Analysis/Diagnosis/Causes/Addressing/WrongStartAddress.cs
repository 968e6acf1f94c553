namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: wrong start address.</summary>
internal sealed class WrongStartAddress() : LocateCause(
    new CauseCard("wrong-start-address", CauseGroup.Addressing, "wrong start address")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Set the address of the sheet, or patch the controller to the address that is read.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    });
