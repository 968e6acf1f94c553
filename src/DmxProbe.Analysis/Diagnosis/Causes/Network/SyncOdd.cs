namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: synchronization that does not fit the levels.</summary>
internal sealed class SyncOdd() : FindingCause(
    new CauseCard("sync-odd", CauseGroup.Network, "synchronization that does not fit the levels")
    {
        Needs = [CauseInputs.Network],
        Test = "A synchronization address without synchronization, synchronization without levels, or two senders of one (E1.31-2018 6.2.4.1 and 11).",
        NotSeen = "Synchronization and levels fit.",
        Fix = "Give each sender a synchronization address of its own, or switch synchronization off.",
        Check = new NextCheck("Look at the synchronization setting of the senders.", 30),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Rare,
    },
    "synchronization-stopped",
    "synchronization-missing",
    "synchronization-unused",
    "synchronization-two-senders",
    "synchronization-sequence");
