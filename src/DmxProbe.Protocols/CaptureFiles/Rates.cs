using System.Buffers;
using System.Globalization;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>Sampling rates as people and files write them: <c>24M</c>, <c>500 kHz</c>, <c>1.5MHz</c>, <c>1000000</c>.</summary>
public static class Rates
{
    /// <summary>The fastest rate that is read: 10 GHz.</summary>
    public const long Highest = 10_000_000_000;

    private static readonly SearchValues<char> DigitsAndPoint = SearchValues.Create("0123456789.");

    /// <summary>Reads a rate.</summary>
    /// <param name="text">A number with a point, then nothing, k, M or G, then nothing or Hz (or S/s, Sa/s).</param>
    /// <param name="perSecond">Samples per second, 1 to <see cref="Highest"/>.</param>
    /// <returns>False where it is no rate, not a whole number per second, or out of range.</returns>
    public static bool TryParse(ReadOnlySpan<char> text, out long perSecond)
    {
        perSecond = 0;
        text = text.Trim();
        int digits = text.IndexOfAnyExcept(DigitsAndPoint);
        ReadOnlySpan<char> number = digits < 0 ? text : text[..digits];
        ReadOnlySpan<char> unit = digits < 0 ? "" : text[digits..].Trim();
        if (!TryGetFactor(unit, out long factor)
            || !decimal.TryParse(number, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out decimal value)
            || value > Highest)
        {
            return false;
        }

        value *= factor;
        if (value < 1 || value > Highest || value != decimal.Truncate(value))
        {
            return false;
        }

        perSecond = (long)value;
        return true;
    }

    /// <summary>The rate as text: <c>24 MHz</c>, <c>500 kHz</c>.</summary>
    public static string Text(long perSecond)
    {
        (decimal factor, string unit) = perSecond switch
        {
            >= 1_000_000_000 => (1e9m, "GHz"),
            >= 1_000_000 => (1e6m, "MHz"),
            >= 1_000 => (1e3m, "kHz"),
            _ => (1m, "Hz"),
        };
        return (perSecond / factor).ToString("0.#########", CultureInfo.InvariantCulture) + " " + unit;
    }

    /// <summary>Finds the first rate with a unit (<c>at 12 MHz</c>) inside a longer text.</summary>
    internal static bool TryFind(ReadOnlySpan<char> text, out long perSecond)
    {
        perSecond = 0;
        for (int at = text.IndexOf("Hz", StringComparison.OrdinalIgnoreCase); at >= 0;)
        {
            int start = at;
            while (start > 0 && (char.IsAsciiDigit(text[start - 1]) || text[start - 1] is '.' or ' ' or 'k' or 'K' or 'M' or 'G'))
            {
                start--;
            }

            // "... 2 at 12 MHz" holds one number; "2 12 MHz" the last of two.
            ReadOnlySpan<char> found = text[start..(at + 2)].Trim();
            int lastNumber = found.TrimEnd("HhZzkKMG ").LastIndexOf(' ');
            if (TryParse(found[(lastNumber + 1)..], out perSecond))
            {
                return true;
            }

            int next = text[(at + 2)..].IndexOf("Hz", StringComparison.OrdinalIgnoreCase);
            at = next < 0 ? -1 : at + 2 + next;
        }

        return false;
    }

    private static bool TryGetFactor(ReadOnlySpan<char> unit, out long factor)
    {
        factor = 1;
        if (unit.IsEmpty)
        {
            return true;
        }

        factor = unit[0] switch
        {
            'k' or 'K' => 1_000,
            'M' => 1_000_000,
            'G' => 1_000_000_000,
            _ => 1,
        };
        ReadOnlySpan<char> rest = factor == 1 ? unit : unit[1..];
        return rest.IsEmpty || rest.Equals("Hz", StringComparison.OrdinalIgnoreCase)
            || rest is "S/s" or "Sa/s" or "s/s" or "sps" or "SPS";
    }
}
