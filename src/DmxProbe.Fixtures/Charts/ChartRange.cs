namespace DmxProbe.Fixtures.Charts;

/// <summary>A range of values of a slot and what the chart says about it.</summary>
/// <param name="From">First value, 0 to 255.</param>
/// <param name="To">Last value, 0 to 255, not below <paramref name="From"/>.</param>
/// <param name="Meaning">The chart's own words, verbatim; untrusted text.</param>
/// <param name="Effect">What the light model makes of it.</param>
public sealed record ChartRange(int From, int To, string Meaning, RangeEffect Effect);
