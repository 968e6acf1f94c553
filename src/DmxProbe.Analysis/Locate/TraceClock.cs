using System.Globalization;

namespace DmxProbe.Analysis.Locate;

/// <summary>How far a trace's clock may be from the capture's. In a trace it is a comment: <c># clock: unknown</c> or <c># clock: within 3 s</c>.</summary>
/// <param name="ErrorSeconds">Largest error either way, s; infinite when nothing is known.</param>
public readonly record struct TraceClock(double ErrorSeconds)
{
    /// <summary>One clock for both.</summary>
    public static TraceClock Shared { get; }

    /// <summary>Nothing is known of it.</summary>
    public static TraceClock Unknown { get; } = new(double.PositiveInfinity);

    /// <summary>Whether nothing is known of it.</summary>
    public bool IsUnknown => double.IsPositiveInfinity(ErrorSeconds);

    /// <summary>Reads a comment line; null when it says nothing of the clock.</summary>
    public static TraceClock? Parse(string line)
    {
        ArgumentNullException.ThrowIfNull(line);
        string[] words = line.TrimStart('\uFEFF', ' ', '\t', '#').Split([' ', '\t'], StringSplitOptions.RemoveEmptyEntries);
        return words switch
        {
            ["clock:", "unknown"] => Unknown,
            ["clock:", "within", string text, "s"] when double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double error)
                && double.IsFinite(error) => new TraceClock(error),
            _ => null,
        };
    }

    /// <summary>The comment line.</summary>
    public override string ToString() =>
        IsUnknown ? "# clock: unknown" : string.Create(CultureInfo.InvariantCulture, $"# clock: within {ErrorSeconds:0.###} s");
}
