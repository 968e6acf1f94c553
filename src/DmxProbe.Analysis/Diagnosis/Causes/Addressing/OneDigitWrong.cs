namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: one digit of the address wrong.</summary>
internal sealed class OneDigitWrong() : LocateCause(
    new CauseCard("one-digit-wrong", CauseGroup.Addressing, "one digit of the address wrong")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Set the address of the sheet.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "one digit is wrong");
