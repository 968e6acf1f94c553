using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Timing;

/// <summary>What <see cref="ArrivalAnalyzer"/> knows of one sender on one universe.</summary>
/// <param name="Intervals">Intervals between level frames, silences included; null with fewer than two frames.</param>
/// <param name="LongestFrom">When the longest interval began.</param>
/// <param name="PresentIntervals">Intervals not longer than the protocol's loss time.</param>
/// <param name="Present">Their sum: the time in which the sender was there.</param>
/// <param name="RunningIntervals">Intervals under 250 ms.</param>
/// <param name="Running">Their sum: the time in which it sent at its running rate.</param>
/// <param name="Returns">Times it came back after a longer silence or a termination.</param>
/// <param name="Terminated">True when its last level frame ended the stream.</param>
/// <param name="Spread">How the intervals under 250 ms spread; null when there were none.</param>
public sealed record ArrivalSnapshot(
    IntervalStatistics? Intervals,
    Timestamp LongestFrom,
    long PresentIntervals,
    Duration Present,
    long RunningIntervals,
    Duration Running,
    long Returns,
    bool Terminated,
    RunningSpread? Spread)
{
    /// <summary>How the intervals are spread; empty with fewer than two frames.</summary>
    public IReadOnlyList<DistributionBar> Bars { get; init; } = [];
}
