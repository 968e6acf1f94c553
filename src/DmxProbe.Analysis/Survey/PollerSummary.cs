using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>Who sends ArtPoll, and how often.</summary>
/// <param name="Address">Where the polls come from.</param>
/// <param name="Polls">How many.</param>
/// <param name="First">When first.</param>
/// <param name="Last">When last.</param>
/// <param name="Intervals">Times between them; null with fewer than two.</param>
public sealed record PollerSummary(string Address, long Polls, Timestamp First, Timestamp Last, IntervalStatistics? Intervals);
