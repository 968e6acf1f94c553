namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: the sender that is obeyed changes.</summary>
internal sealed class TakeOver() : FindingCause(
    new CauseCard("priority-takeover", CauseGroup.Network, "the sender that is obeyed changes")
    {
        Needs = [CauseInputs.Network],
        Test = "Which sender a receiver obeys changed while several were present (E1.31-2018 6.2.3: the highest priority wins).",
        NotSeen = "The obeyed sender of each sACN universe never changes.",
        Fix = "If nobody changed over on purpose, look at the priorities of these senders.",
        Check = new NextCheck("Ask whether a backup took over.", 20),
        Cautions = [Caution.Silencing],
    },
    "obeyed-sender-changed");
