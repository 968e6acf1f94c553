using System.Globalization;

using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>Lengths of time and sizes on the command line: a number and its unit, <c>10s</c>, <c>15min</c>, <c>500MB</c>.</summary>
internal static class Amounts
{
    private static readonly (string Unit, double Seconds)[] Times =
        [("ms", 0.001), ("min", 60), ("s", 1), ("m", 60), ("h", 3_600)];

    private static readonly (string Unit, double Octets)[] Sizes = [("kB", 1e3), ("MB", 1e6), ("GB", 1e9)];

    /// <summary>A length of time over 0, up to a year.</summary>
    /// <exception cref="UsageException">It is none.</exception>
    public static Duration Time(string option, string text) =>
        TryTime(text) ?? throw new UsageException($"{option} takes a length of time such as 10s, 15min or 2h, not '{text}'");

    /// <summary>A length of time or a size.</summary>
    /// <exception cref="UsageException">It is neither.</exception>
    public static (Duration? Time, long? Size) TimeOrSize(string option, string text)
    {
        if (TryTime(text) is Duration time)
        {
            return (time, null);
        }

        return TryRead(text, Sizes) is double octets and >= 1e5 and <= 1e15
            ? (null, (long)octets)
            : throw new UsageException($"{option} takes a length of time such as 10min, or a size from 100kB such as 500MB, not '{text}'");
    }

    private static Duration? TryTime(string text) =>
        TryRead(text, Times) is double seconds and >= 0.001 and <= 366 * 86_400.0 ? Duration.FromSeconds(seconds) : null;

    private static double? TryRead(string text, (string Unit, double Factor)[] units)
    {
        foreach ((string unit, double factor) in units)
        {
            if (text.EndsWith(unit, StringComparison.OrdinalIgnoreCase)
                && double.TryParse(text[..^unit.Length], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double number))
            {
                return number * factor;
            }
        }

        return null;
    }
}
