using System.Globalization;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings;

/// <summary>Names and figures as findings write them. Names are untrusted: whoever shows a finding escapes it.</summary>
internal static class Words
{
    /// <summary>A sender as a person would point at it: <c>'Main' (10.20.0.5)</c>, the address alone, or a channel's name.</summary>
    public static string Name(SenderSummary sender) => (sender.Name.Length > 0, sender.Address.Length > 0) switch
    {
        (true, true) => $"'{sender.Name}' ({sender.Address})",
        (true, false) => $"'{sender.Name}'",
        (false, true) => sender.Address,
        _ => "whoever drives it",
    };

    /// <summary>Several names: <c>A and B</c>, <c>A, B and C</c>; at most so many by name.</summary>
    public static string List(IEnumerable<string> names, int most = 4)
    {
        string[] all = [.. names];
        if (all.Length > most)
        {
            return string.Join(", ", all.Take(most)) + Invariant($" and {all.Length - most} more");
        }

        return all.Length switch
        {
            0 => "nobody",
            1 => all[0],
            _ => string.Join(", ", all[..^1]) + " and " + all[^1],
        };
    }

    /// <summary>A whole number with its noun: <c>1 packet</c>, <c>1,234 packets</c>.</summary>
    public static string Count(long count, string noun) =>
        Invariant($"{count:N0} {noun}") + (count == 1 ? "" : "s");

    /// <summary>Seconds with as many decimals as help: <c>0.48 s</c>, <c>12.3 s</c>, <c>640 s</c>.</summary>
    public static string Seconds(Duration duration) => duration.TotalSeconds switch
    {
        < 10 => Invariant($"{duration.TotalSeconds:0.00} s"),
        < 100 => Invariant($"{duration.TotalSeconds:0.0} s"),
        _ => Invariant($"{duration.TotalSeconds:N0} s"),
    };

    /// <summary>Whole milliseconds.</summary>
    public static string Milliseconds(Duration duration) => Invariant($"{duration.TotalMilliseconds:N0} ms");

    /// <summary>A share in percent, with two figures where it is small.</summary>
    public static string Percent(double share) => share switch
    {
        < 0.001 => Invariant($"{share * 100:0.###} %"),
        < 0.1 => Invariant($"{share * 100:0.##} %"),
        _ => Invariant($"{share * 100:0.#} %"),
    };

    /// <summary>Formats for every culture alike.</summary>
    public static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
