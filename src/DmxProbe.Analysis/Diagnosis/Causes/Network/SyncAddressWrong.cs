namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a synchronization address that may not be sent.</summary>
internal sealed class SyncAddressWrong() : FindingCause(
    new CauseCard("sync-address-wrong", CauseGroup.Network, "a synchronization address that may not be sent")
    {
        Needs = [CauseInputs.Network],
        Test = "Synchronization packets with address 0 or above 63999 (E1.31-2018 6.3.3.1: receivers ignore them).",
        NotSeen = "Every synchronization address is one that may be used.",
        Explains = ["wrong-multicast-group"],
        Fix = "Set a synchronization address of 1 to 63999, or switch synchronization off.",
        Check = new NextCheck("Look at the synchronization setting of the sender.", 30),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Rare,
    },
    "sacn-sync-address");
