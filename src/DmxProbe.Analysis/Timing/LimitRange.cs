namespace DmxProbe.Analysis.Timing;

/// <summary>A limit with its source; a clause number only where the text was read.</summary>
/// <param name="Min">Least allowed value, or null.</param>
/// <param name="Max">Greatest allowed value, or null.</param>
/// <param name="Source">Where it is from and how that is known.</param>
public sealed record LimitRange(double? Min, double? Max, string Source);
