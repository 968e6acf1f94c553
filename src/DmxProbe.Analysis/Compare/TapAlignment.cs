using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>
/// How the clocks of two taps stand, found from what both saw: the far time of a change less its near time lies, for most
/// changes, within a window as wide as a gateway's latency varies.
/// </summary>
/// <param name="Offset">Least difference in that window: far less near.</param>
/// <param name="Matched">Changes in it.</param>
internal readonly record struct TapAlignment(Duration Offset, int Matched)
{
    /// <summary>Widest spread of latencies believed.</summary>
    public static readonly Duration Window = Duration.FromMilliseconds(250);

    private const int MostOccurrences = 8;
    private const int MostPairs = 400_000;

    /// <summary>Finds it; null where fewer than three changes agree.</summary>
    public static TapAlignment? Find(IReadOnlyList<OutputChange> near, IReadOnlyList<OutputChange> far)
    {
        Dictionary<ulong, List<Timestamp>> byHash = [];
        foreach (OutputChange change in near)
        {
            if (!byHash.TryGetValue(change.Hash, out List<Timestamp>? times))
            {
                byHash[change.Hash] = times = [];
            }

            times.Add(change.Time);
        }

        // A content that comes again and again tells nothing about time.
        List<long> differences = [];
        foreach (OutputChange change in far)
        {
            if (byHash.TryGetValue(change.Hash, out List<Timestamp>? times) && times.Count <= MostOccurrences && differences.Count < MostPairs)
            {
                differences.AddRange(times.Select(time => (change.Time - time).Nanoseconds));
            }
        }

        differences.Sort();
        int best = 0;
        long offset = 0;
        int to = 0;
        for (int from = 0; from < differences.Count; from++)
        {
            while (to < differences.Count && differences[to] - differences[from] <= Window.Nanoseconds)
            {
                to++;
            }

            if (to - from > best)
            {
                (best, offset) = (to - from, differences[from]);
            }
        }

        return best < 3 ? null : new TapAlignment(Duration.FromNanoseconds(offset), best);
    }
}
