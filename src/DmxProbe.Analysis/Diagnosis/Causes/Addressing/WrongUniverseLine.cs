namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: on the line of another universe.</summary>
internal sealed class WrongUniverseLine() : LocateCause(
    new CauseCard("wrong-universe", CauseGroup.Addressing, "on the line of another universe")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and that is on another universe than the sheet has it on.",
        Fix = "Plug its line into the output of its universe, or route the universe there; set a unit that takes the network itself to its universe. An address set before that is counted in the universe that is heard.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Setting, Caution.Unplugging],
        Missing = CauseInputs.Light,
    },
    "plugged into");
