namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: address never stored.</summary>
internal sealed class AddressNotStored() : LocateCause(
    new CauseCard("address-not-stored", CauseGroup.Addressing, "address never stored")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Set it again, confirm, switch off and on, and read it again.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "still at address 1");
