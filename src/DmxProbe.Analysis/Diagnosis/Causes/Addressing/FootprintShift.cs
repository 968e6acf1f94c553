namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: a wrong footprint before it shifts it.</summary>
internal sealed class FootprintShift() : LocateCause(
    new CauseCard("footprint-shift", CauseGroup.Addressing, "a wrong footprint before it shifts it")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Find the first unit that is off: its mode or footprint is wrong on the sheet; number the rest again.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "shifted up",
    "shifted down");
