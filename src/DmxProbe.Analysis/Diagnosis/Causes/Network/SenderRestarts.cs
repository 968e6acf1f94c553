namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a sender starts its count anew.</summary>
internal sealed class SenderRestarts() : FindingCause(
    new CauseCard("sender-restarts", CauseGroup.Network, "a sender starts its count anew")
    {
        Needs = [CauseInputs.Network],
        Test = "The sequence number jumps back by 20 or more (E1.31-2018 6.7.2).",
        NotSeen = "No sender started its count anew.",
        Fix = "Ask whether it was restarted; two programs with one identity look the same.",
        Check = new NextCheck("Ask whether the sender was restarted.", 15),
        Frequency = CauseFrequency.Rare,
    },
    "sequence-restarted");
