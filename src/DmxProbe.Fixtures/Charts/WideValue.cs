using System.Globalization;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Charts;

/// <summary>A value of a chart with its width: <c>200</c> of the slot itself, <c>51400/2</c> of the slot and one low byte.</summary>
/// <param name="Value">The value, below 256^bytes.</param>
/// <param name="Bytes">How many bytes it has, 1 to 4.</param>
internal readonly record struct WideValue(long Value, int Bytes)
{
    /// <summary>First value in a width of at least its own: low bytes that are not said are 0.</summary>
    public long First(int bytes) => Value << (8 * (bytes - Bytes));

    /// <summary>Last value in a width of at least its own: low bytes that are not said are 255.</summary>
    public long Last(int bytes) => ((Value + 1) << (8 * (bytes - Bytes))) - 1;

    /// <summary>Reads a cell; otherwise a problem is added.</summary>
    public static bool TryRead(TableRow row, int column, string advice, ProblemList problems, out WideValue value)
    {
        if (TryParse(row[column], out value))
        {
            return true;
        }

        if (row[column].Contains('/', StringComparison.Ordinal))
        {
            problems.Add(row.Problem("not a value of several bytes", column, "value/bytes as in 51400/2, the value of the slot with its low bytes", advice));
            return false;
        }

        return row.TryNumber(column, 0, 255, advice, problems, out _);
    }

    /// <summary>Reads <c>value</c> or <c>value/bytes</c>.</summary>
    public static bool TryParse(ReadOnlySpan<char> text, out WideValue value)
    {
        int stroke = text.IndexOf('/');
        int bytes = 1;
        value = default;
        if (stroke >= 0 && (!int.TryParse(text[(stroke + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out bytes) || bytes is < 1 or > 4))
        {
            return false;
        }

        if (!long.TryParse(stroke >= 0 ? text[..stroke] : text, NumberStyles.None, CultureInfo.InvariantCulture, out long number) || number >= 1L << (8 * bytes))
        {
            return false;
        }

        value = new WideValue(number, bytes);
        return true;
    }

    /// <summary>As <see cref="TryParse"/> reads it.</summary>
    public override string ToString() => Bytes == 1
        ? Value.ToString(CultureInfo.InvariantCulture)
        : string.Create(CultureInfo.InvariantCulture, $"{Value}/{Bytes}");
}
