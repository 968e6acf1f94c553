using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare;

/// <summary>How fast two clocks move apart: the slope under the differences, since a latency is never less than its least.</summary>
internal static class ClockDrift
{
    private const int Parts = 8;
    private const double Most = 500e-6; // no recorder's clock is worse: common practice, no source

    /// <summary>The slope, dimensionless, from -500 to 500 parts per million.</summary>
    public static double Of(IReadOnlyList<(Timestamp Near, long Difference)> pairs)
    {
        Timestamp start = pairs[0].Near;
        double length = (pairs[^1].Near - start).TotalSeconds;
        if (length <= 0)
        {
            return 0;
        }

        // The least of each part, then the straight line through them.
        (double Time, double Difference)[] least =
        [
            .. pairs
                .GroupBy(pair => Math.Min(Parts - 1, (int)((pair.Near - start).TotalSeconds / length * Parts)))
                .Select(part => part.MinBy(pair => pair.Difference))
                .Select(pair => ((pair.Near - start).TotalSeconds, pair.Difference / 1e9)),
        ];
        double meanTime = least.Average(each => each.Time);
        double meanDifference = least.Average(each => each.Difference);
        double spread = least.Sum(each => (each.Time - meanTime) * (each.Time - meanTime));
        double together = least.Sum(each => (each.Time - meanTime) * (each.Difference - meanDifference));
        return spread <= 0 ? 0 : Math.Clamp(together / spread, -Most, Most);
    }
}
