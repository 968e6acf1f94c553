namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: switches read from the wrong end.</summary>
internal sealed class SwitchesReversed() : LocateCause(
    new CauseCard("switches-reversed", CauseGroup.Addressing, "switches read from the wrong end")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Set the switches from the other end.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Frequency = CauseFrequency.Rare,
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "wrong end of the switch bank");
