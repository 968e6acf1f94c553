namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: the sequence number never changes.</summary>
internal sealed class SequenceStuck() : FindingCause(
    new CauseCard("sequence-stuck", CauseGroup.Network, "the sequence number never changes")
    {
        Needs = [CauseInputs.Network],
        Test = "Over 90 % of more than 20 packets repeat the sequence number before (E1.31-2018 6.2.5 and 6.7.2: such packets are discarded).",
        NotSeen = "Sequence numbers advance.",
        Explains = ["packets-out-of-order", "repeated-packets"],
        Fix = "The sender's software is at fault; receivers that ignore the number still follow it.",
        Check = new NextCheck("Look for a newer version of the sender's software.", 300),
        Frequency = CauseFrequency.Rare,
    },
    "sequence-stuck");
