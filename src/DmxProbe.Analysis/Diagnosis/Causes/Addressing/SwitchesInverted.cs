namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: ON and OFF exchanged.</summary>
internal sealed class SwitchesInverted() : LocateCause(
    new CauseCard("switches-inverted", CauseGroup.Addressing, "ON and OFF exchanged")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Set the switches by the ON mark.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Frequency = CauseFrequency.Rare,
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "exchanged on the switch bank");
