namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: one address switch wrong.</summary>
internal sealed class OneSwitchWrong() : LocateCause(
    new CauseCard("one-switch-wrong", CauseGroup.Addressing, "one address switch wrong")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Set that switch.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "address switch");
