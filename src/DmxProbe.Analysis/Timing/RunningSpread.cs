using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Timing;

/// <summary>How the intervals of a running sender spread: a steady one has both quarters near the median.</summary>
/// <param name="One">One in a hundred is shorter.</param>
/// <param name="Quarter">A quarter of the intervals is shorter.</param>
/// <param name="Median">Half of them is shorter.</param>
/// <param name="ThreeQuarters">A quarter is longer.</param>
/// <param name="NinetyNine">One in a hundred is longer.</param>
public sealed record RunningSpread(Duration One, Duration Quarter, Duration Median, Duration ThreeQuarters, Duration NinetyNine);
