using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>
/// Which cue of one night is which of another: by content (what moved, and where everything stands then), in order. The clock only decides between cues of equal content:
/// an operator is seconds early or late, and shows begin when they begin.
/// </summary>
internal static class NightAlignment
{
    private const double LeastAlike = 0.15;
    private const double ClockWeight = 0.05;
    private const double ClockSeconds = 60;

    /// <summary>Finds the pairs, in order.</summary>
    public static List<(int One, int Other)> Find(IReadOnlyList<NightChange> one, IReadOnlyList<NightChange> other)
    {
        List<(int One, int Other)> pairs = Find(one, other, null);
        if (pairs.Count == 0)
        {
            return pairs;
        }

        long[] offsets = [.. pairs.Select(pair => (other[pair.Other].At - one[pair.One].At).Nanoseconds).Order()];
        return Find(one, other, Duration.FromNanoseconds(offsets[offsets.Length / 2]));
    }

    private static List<(int One, int Other)> Find(IReadOnlyList<NightChange> one, IReadOnlyList<NightChange> other, Duration? offset)
    {
        // The best sum of likenesses of pairs in order: from the end, so that the way can be walked from the start.
        int width = other.Count + 1;
        float[] below = new float[width];
        float[] row = new float[width];
        byte[] ways = new byte[one.Count * (long)width];
        for (int i = one.Count - 1; i >= 0; i--)
        {
            for (int j = other.Count - 1; j >= 0; j--)
            {
                float best = below[j];
                byte way = 1;
                if (row[j + 1] > best)
                {
                    (best, way) = (row[j + 1], 2);
                }

                double alike = NightSketch.Alike(one[i].Sketch, other[j].Sketch);
                if (alike >= LeastAlike)
                {
                    double late = offset is Duration usual ? Math.Abs((other[j].At - one[i].At - usual).TotalSeconds) : 0;
                    double look = NightSketch.Alike(one[i].Look, other[j].Look);
                    float pair = below[j + 1] + (float)(((alike + look) / 2) - (LeastAlike / 2) - (ClockWeight * Math.Min(1, late / ClockSeconds)));
                    if (pair > best)
                    {
                        (best, way) = (pair, 3);
                    }
                }

                row[j] = best;
                ways[((long)i * width) + j] = way;
            }

            (below, row) = (row, below);
            row[other.Count] = 0;
        }

        List<(int, int)> pairs = [];
        for (int i = 0, j = 0; i < one.Count && j < other.Count;)
        {
            byte way = ways[((long)i * width) + j];
            if (way == 3)
            {
                pairs.Add((i, j));
            }

            i += way is 1 or 3 ? 1 : 0;
            j += way is 2 or 3 ? 1 : 0;
        }

        return pairs;
    }
}
