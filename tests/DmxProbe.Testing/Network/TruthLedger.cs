using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Testing.Network;

/// <summary>Counts what became of each universe of each sender.</summary>
internal static class TruthLedger
{
    /// <summary>Makes the truth from what was sent and what arrived, both in order of time.</summary>
    public static IReadOnlyList<StreamTruth> Account(SentPacket[] sent, SimulatedPacket[] arrived)
    {
        ILookup<(UniverseId, string), SimulatedPacket> byStream = arrived
            .Where(p => p.Sent.CountsInSequence)
            .ToLookup(p => (p.Sent.Universe, p.Sent.Sender));
        return [.. sent
            .Where(p => p.CountsInSequence)
            .GroupBy(p => (p.Universe, p.Sender))
            .OrderBy(g => g.Key.Universe).ThenBy(g => g.Key.Sender, StringComparer.Ordinal)
            .Where(g => byStream[g.Key].Any())
            .Select(g => Stream(g.Key.Universe, g.Key.Sender, [.. g], [.. byStream[g.Key]]))];
    }

    private static StreamTruth Stream(UniverseId universe, string sender, SentPacket[] sent, SimulatedPacket[] arrived)
    {
        long late = 0;
        long levels = 0;
        long newest = -1;
        HashSet<long> seen = [];
        foreach (SimulatedPacket packet in arrived)
        {
            if (!packet.IsCopy && seen.Add(packet.Sent.Index))
            {
                late += packet.Sent.Index < newest ? 1 : 0;
                levels += packet.Sent.Kind == PacketKind.Levels ? 1 : 0;
                newest = Math.Max(newest, packet.Sent.Index);
            }
        }

        SentPacket[] packets = [.. sent.DistinctBy(p => p.Index)];
        long first = seen.Min();
        return new StreamTruth
        {
            Universe = universe,
            Sender = sender,
            Sent = packets.Length,
            Lost = packets.Length - seen.Count,
            LostBetween = newest - first + 1 - seen.Count,
            Duplicated = arrived.Count(p => p.IsCopy),
            Late = late,
            LevelsArrived = levels,
            Changes = packets.Count(p => p.Reason == SendReason.Change),
            FirstArrival = arrived[0].Time,
            LastArrival = arrived[^1].Time,
        };
    }
}
