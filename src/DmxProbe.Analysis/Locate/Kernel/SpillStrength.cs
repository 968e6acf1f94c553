namespace DmxProbe.Analysis.Locate;

/// <summary>
/// How strong the light of the other units may be, in units of the trace's standard deviation over 0.3. A sensor that is not beside
/// one of them sees about as much of each: then what they have in common, the first direction of <see cref="SpillSpace"/> (nearly
/// the sum of all), is strong and what sets them apart is not.
/// </summary>
/// <param name="Common">Along the first direction.</param>
/// <param name="Apart">Along all others; with this much the others' light can pass for something else.</param>
/// <param name="LogPrior">Logarithm of its prior.</param>
internal readonly record struct SpillStrength(double Common, double Apart, double LogPrior)
{
    /// <summary>Those tried.</summary>
    public static readonly SpillStrength[] All =
    [
        new(0, 0, 0), new(0.0015, 0.0015, -0.3), new(0.005, 0.005, -1), new(0.015, 0.015, -2), new(0.05, 0.05, -4), new(0.15, 0.15, -8),
        new(0.015, 0.0015, -1.5), new(0.05, 0.005, -2.5), new(0.15, 0.015, -4),
    ];

    /// <summary>Along a direction.</summary>
    public double Along(int direction) => direction == 0 ? Common : Apart;
}
