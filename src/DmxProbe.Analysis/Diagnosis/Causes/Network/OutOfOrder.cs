namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: packets arrive out of order.</summary>
internal sealed class OutOfOrder() : FindingCause(
    new CauseCard("packets-out-of-order", CauseGroup.Network, "packets arrive out of order")
    {
        Needs = [CauseInputs.Network],
        Test = "Packets with a number up to 19 behind the one before (E1.31-2018 6.7.2: receivers discard them); over 1 in 1,000 is worth a look (common practice, no source).",
        NotSeen = "Packets arrive in order.",
        Explains = ["packet-loss"],
        Fix = "Look for two paths through the network, or two programs that send as one.",
        Check = new NextCheck("Look for a second link between the same switches.", 120),
        Frequency = CauseFrequency.Rare,
    },
    "packets-out-of-order");
