namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: ArtSync that devices ignore.</summary>
internal sealed class ArtSyncOdd() : FindingCause(
    new CauseCard("art-sync-ignored", CauseGroup.Network, "ArtSync that devices ignore")
    {
        Needs = [CauseInputs.Network],
        Test = "ArtSync from another machine than the levels, while merging, unicast, or stopped (Art-Net 4, 1.4dn, pages 77 to 79).",
        NotSeen = "No ArtSync is one that devices ignore.",
        Fix = "Let the machine that sends the levels send the ArtSync.",
        Check = new NextCheck("Look which machine has synchronization switched on.", 30),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Rare,
    },
    "art-sync-foreign",
    "art-sync-while-merging",
    "art-sync-stopped",
    "art-sync-unicast");
