namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: on the line of another universe.</summary>
internal sealed class WrongUniverseLine() : LocateCause(
    new CauseCard("wrong-universe", CauseGroup.Addressing, "on the line of another universe")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Swap the cable, or route the universe there.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "plugged into");
