namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: address off by one.</summary>
internal sealed class OffByOne() : LocateCause(
    new CauseCard("off-by-one", CauseGroup.Addressing, "address off by one")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Set the address of the sheet; where a whole controller is off, state on the sheet that it counts from 0.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "one too high",
    "one too low");
