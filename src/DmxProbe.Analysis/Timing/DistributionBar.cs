namespace DmxProbe.Analysis.Timing;

/// <summary>A bar of a histogram.</summary>
/// <param name="From">Least value in it.</param>
/// <param name="To">Greatest value in it; equal to <paramref name="From"/> where it is one value.</param>
/// <param name="Count">How many.</param>
public readonly record struct DistributionBar(double From, double To, long Count);
