namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: synchronization stopped and receivers stand still.</summary>
internal sealed class SyncFrozen() : FindingCause(
    new CauseCard("sync-missing", CauseGroup.Network, "synchronization stopped and receivers stand still")
    {
        Needs = [CauseInputs.Network],
        Test = "Levels ask for synchronization and forbid going on without, and none comes any more (E1.31-2018 6.2.6 and 11).",
        NotSeen = "No receiver has to stand still for want of synchronization.",
        Fix = "Start what sends the synchronization, or switch synchronization off at the sender of the levels.",
        Check = new NextCheck("Look at the synchronization setting of the sender.", 30),
        Cautions = [Caution.Returning],
    },
    "synchronization-frozen");
