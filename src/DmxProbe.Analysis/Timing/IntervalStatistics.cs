using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Timing;

/// <summary>
/// Times between the arrivals of consecutive frames. Minimum, maximum and mean are exact; the percentiles come from a
/// histogram whose bins are one 32nd of their octave wide (at most 3.2 % of the value).
/// </summary>
/// <param name="Count">Intervals measured.</param>
/// <param name="Minimum">Shortest.</param>
/// <param name="Mean">Mean.</param>
/// <param name="Median">50th percentile.</param>
/// <param name="P95">95th percentile.</param>
/// <param name="P99">99th percentile.</param>
/// <param name="Maximum">Longest.</param>
public sealed record IntervalStatistics(
    long Count,
    Duration Minimum,
    Duration Mean,
    Duration Median,
    Duration P95,
    Duration P99,
    Duration Maximum)
{
    /// <summary>Values below which a 99th percentile is only the greatest value by another name, and is not told.</summary>
    public const int EnoughFor99 = 100;
}
