namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: has the address of another unit.</summary>
internal sealed class TakesNeighbour() : LocateCause(
    new CauseCard("reads-anothers-address", CauseGroup.Addressing, "has the address of another unit")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Set the address of the sheet.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "has the address of");
