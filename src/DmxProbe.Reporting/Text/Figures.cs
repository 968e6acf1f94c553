using System.Globalization;

using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Text;

/// <summary>How figures are written: three digits that mean something, the unit beside them, a point as decimal sign.</summary>
public static class Figures
{
    /// <summary>What stands where there is no figure.</summary>
    public const string None = "-";

    /// <summary>A sentence with a full stop, unless it ends with a mark of its own.</summary>
    public static string Ended(string sentence) => sentence.Length > 0 && sentence[^1] is '.' or '?' or '!' ? sentence : sentence + ".";

    /// <summary>Words with a capital letter in front; nothing of nothing.</summary>
    public static string Capital(string words) => words.Length > 0 ? char.ToUpperInvariant(words[0]) + words[1..] : words;

    /// <summary>A count with its thousands kept apart.</summary>
    public static string Count(long count) => count.ToString("N0", CultureInfo.InvariantCulture);

    /// <summary>A count and its word: <c>1 sender</c>, <c>2 senders</c>.</summary>
    public static string Count(long count, string one, string? many = null) =>
        $"{Count(count)} {(count == 1 ? one : many ?? one + "s")}";

    /// <summary>A figure to about three digits.</summary>
    public static string Number(double? value)
    {
        if (value is not double figure || !double.IsFinite(figure))
        {
            return None;
        }

        string format = Math.Abs(figure) switch
        {
            0 => "0",
            < 0.000001 => "0.0E+0",
            < 0.001 => "0.########",
            < 0.1 => "0.####",
            < 10 => "0.00",
            < 1000 => "0.0",
            _ => "N0",
        };
        return figure.ToString(format, CultureInfo.InvariantCulture);
    }

    /// <summary>A rate: <c>44.0 Hz</c>.</summary>
    public static string Rate(double? hertz) => hertz is null ? None : Number(hertz) + " Hz";

    /// <summary>A duration in the unit that fits: <c>20.8 ns</c>, <c>88.0 us</c>, <c>22.7 ms</c>, <c>1.20 s</c>, <c>1 h 02 min</c>.</summary>
    public static string Time(Duration? duration)
    {
        if (duration is not Duration time)
        {
            return None;
        }

        double seconds = time.TotalSeconds;
        return Math.Abs(seconds) switch
        {
            < 1e-6 => Count(time.Nanoseconds) + " ns",
            < 1e-3 => Number(time.TotalMicroseconds) + " us",
            < 1 => Number(time.TotalMilliseconds) + " ms",
            < 600 => Number(seconds) + " s",
            < 36_000_000 => LongTime((long)Math.Round(seconds)),
            _ => Number(seconds / 3600) + " h",
        };
    }

    /// <summary>
    /// The time between two moments; the longest that can be held where a damaged capture puts them further apart.
    /// </summary>
    public static Duration Between(Timestamp from, Timestamp to) => Duration.FromNanoseconds(
        (long)Int128.Clamp((Int128)to.UnixNanoseconds - from.UnixNanoseconds, -long.MaxValue, long.MaxValue));

    /// <summary>Whole numbers as a list with ranges: <c>1 to 4, 7</c>.</summary>
    public static string Ranges(IReadOnlyList<int> ascending, int most)
    {
        List<string> parts = [];
        for (int i = 0; i < ascending.Count;)
        {
            int last = i;
            while (last + 1 < ascending.Count && ascending[last + 1] == ascending[last] + 1)
            {
                last++;
            }

            string from = ascending[i].ToString(CultureInfo.InvariantCulture);
            string to = ascending[last].ToString(CultureInfo.InvariantCulture);
            parts.Add(last == i ? from : last == i + 1 ? from + ", " + to : from + " to " + to);
            i = last + 1;
        }

        return parts.Count <= most
            ? string.Join(", ", parts)
            : string.Join(", ", parts.Take(most)) + $" and {parts.Count - most} more";
    }

    private static string LongTime(long seconds) => seconds < 3600
        ? string.Create(CultureInfo.InvariantCulture, $"{seconds / 60} min {seconds % 60:00} s")
        : string.Create(CultureInfo.InvariantCulture, $"{seconds / 3600} h {seconds % 3600 / 60:00} min");
}
