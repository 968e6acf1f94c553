namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: universe numbered from 0 and from 1.</summary>
internal sealed class UniverseCountedFromZero() : LocateCause(
    new CauseCard("universe-counted-from-zero", CauseGroup.Addressing, "universe numbered from 0 and from 1")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Set the gateway or the controller to the same numbering.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "numbered from 0");
