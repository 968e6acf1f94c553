namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: packets that receivers have to discard.</summary>
internal sealed class DiscardedPackets() : FindingCause(
    new CauseCard("discarded-by-receivers", CauseGroup.Network, "packets that receivers have to discard")
    {
        Needs = [CauseInputs.Network],
        Test = "A field that a receiver must check has a value for which it discards the packet (E1.31-2018 5.1, 5.2, 7.2 to 7.5).",
        NotSeen = "No sACN packet has a field for which receivers discard it.",
        Fix = "The sender's software is at fault; receivers that are not strict may still follow it.",
        Check = new NextCheck("Try another receiver, or another sender.", 120),
        Cautions = [Caution.Unplugging],
        Frequency = CauseFrequency.Rare,
    },
    "sacn-discarded-by-receivers");
