namespace DmxProbe.Analysis.Diagnosis.Causes.Addressing;

/// <summary>Cause: universe off by 16.</summary>
internal sealed class UniverseOff16() : LocateCause(
    new CauseCard("universe-off-by-16", CauseGroup.Addressing, "universe off by 16")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.Light],
        Test = "locate names the address and mode that the light follows (docs/locating.md), and this error leads from the sheet's address to it.",
        Fix = "Type Net, Sub-Net and Universe again.",
        Check = new NextCheck("Record the network while the light is worked for a minute, film it, and give the trace with --trace.", 180),
        Cautions = [Caution.Setting],
        Missing = CauseInputs.Light,
    },
    "off by 16");
