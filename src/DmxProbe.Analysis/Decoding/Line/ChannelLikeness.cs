namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>Whether two channels of one recording carry the same signal: as it is, or upside down as the two legs of a pair do.</summary>
internal static class ChannelLikeness
{
    private const int MostEdges = 4_000;
    private const int FewestEdges = 20;
    private const double Needed = 0.9;

    /// <summary>What two channels are to each other.</summary>
    internal enum Kind
    {
        /// <summary>Nothing.</summary>
        None,

        /// <summary>One rises when the other falls: the two legs of one pair.</summary>
        Opposite,

        /// <summary>The same edges: one line recorded twice, or two lines that carry the same.</summary>
        Same,
    }

    /// <summary>Compares the edges held of two channels of equal clocks.</summary>
    /// <param name="left">One channel.</param>
    /// <param name="right">The other.</param>
    /// <param name="toleranceTicks">How far apart two edges may be that are one: two samples.</param>
    public static Kind Of(HeldRuns left, HeldRuns right, long toleranceTicks)
    {
        List<(long Tick, bool Rises)> a = left.Edges(MostEdges);
        List<(long Tick, bool Rises)> b = right.Edges(MostEdges);
        if (a.Count < FewestEdges || b.Count < FewestEdges)
        {
            return Kind.None;
        }

        long until = Math.Min(a[^1].Tick, b[^1].Tick) + toleranceTicks;
        int same = 0;
        int opposite = 0;
        int i = 0;
        int j = 0;
        int edges = 0;
        while (i < a.Count && j < b.Count && a[i].Tick <= until)
        {
            long apart = a[i].Tick - b[j].Tick;
            if (apart > toleranceTicks)
            {
                j++;
                edges++;
                continue;
            }

            if (apart < -toleranceTicks)
            {
                i++;
                edges++;
                continue;
            }

            same += a[i].Rises == b[j].Rises ? 1 : 0;
            opposite += a[i].Rises != b[j].Rises ? 1 : 0;
            i++;
            j++;
            edges++;
        }

        return opposite > Needed * edges ? Kind.Opposite : same > Needed * edges ? Kind.Same : Kind.None;
    }
}
