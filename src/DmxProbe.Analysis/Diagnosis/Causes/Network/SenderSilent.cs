namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a sender falls silent now and then.</summary>
internal sealed class SenderSilent() : FindingCause(
    new CauseCard("sender-silent", CauseGroup.Network, "a sender falls silent now and then")
    {
        Needs = [CauseInputs.Network, CauseInputs.Line, CauseInputs.Serial],
        Test = "A gap between levels longer than receivers keep a sender (as for a sender that stopped), after which it came back.",
        NotSeen = "No sender fell silent for longer than receivers keep it.",
        Fix = "Look at the sender and the way to it at that time.",
        Check = new NextCheck("Hold the times of the gaps against what happened then.", 60),
    },
    "sender-fell-silent");
