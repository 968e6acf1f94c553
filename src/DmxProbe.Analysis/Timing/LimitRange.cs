using System.Globalization;

namespace DmxProbe.Analysis.Timing;

/// <summary>A limit with its source; a clause number only where the text was read.</summary>
/// <param name="Min">Least allowed value, or null.</param>
/// <param name="Max">Greatest allowed value, or null.</param>
/// <param name="Source">Where it is from and how that is known.</param>
public sealed record LimitRange(double? Min, double? Max, string Source)
{
    private const double Second = 1_000_000;

    /// <summary>The limit with its unit: <c>12 us to 1 s</c>, <c>at least 92 us</c>; empty without one.</summary>
    /// <param name="unit">The unit of both values.</param>
    public string InWords(string unit) => this switch
    {
        { Min: double min, Max: double max } when min == max => WithUnit(min, unit),
        { Min: double min, Max: double max } when unit == "us" && max >= Second => $"{WithUnit(min, unit)} to {WithUnit(max, unit)}",
        { Min: double min, Max: double max } => $"{Exact(min, unit)} to {WithUnit(max, unit)}",
        { Min: double min } => $"at least {WithUnit(min, unit)}",
        { Max: double max } => $"at most {WithUnit(max, unit)}",
        _ => "",
    };

    /// <summary>A value to the digit; a second and more of microseconds as seconds, with their unit.</summary>
    /// <param name="value">The value.</param>
    /// <param name="unit">Its unit.</param>
    public static string Exact(double value, string unit) => unit == "us" && value >= Second
        ? (value / Second).ToString("0.###", CultureInfo.InvariantCulture) + " s"
        : value.ToString("#,0.###", CultureInfo.InvariantCulture);

    private static string WithUnit(double value, string unit) => unit == "us" && value >= Second ? Exact(value, unit) : $"{Exact(value, unit)} {unit}";
}
