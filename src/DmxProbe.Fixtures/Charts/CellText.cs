using System.Buffers;
using System.Text;

namespace DmxProbe.Fixtures.Charts;

/// <summary>
/// Text cells of a chart as CSV. A spreadsheet takes a cell that starts with = + - or @ for a formula, so it is written
/// with an apostrophe in front, and read without it.
/// </summary>
internal static class CellText
{
    private static readonly SearchValues<char> Special = SearchValues.Create(",;\t\"\r\n#");

    /// <summary>The text of a cell, ready to stand in a row.</summary>
    public static string Cell(string text)
    {
        string safe = IsFormula(text) || (text.StartsWith('\'') && IsFormula(text.TrimStart('\''))) ? "'" + text : text;
        bool quoted = safe.AsSpan().IndexOfAny(Special) >= 0;
        return quoted ? "\"" + safe.Replace("\"", "\"\"", StringComparison.Ordinal) + "\"" : safe;
    }

    /// <summary>The text that a cell stands for.</summary>
    public static string Plain(string cell) => cell.StartsWith('\'') && IsFormula(cell.TrimStart('\'')) ? cell[1..] : cell;

    /// <summary>A name or a meaning from another format made fit for a cell: one line, no outer blanks, not too long, never a zero byte.</summary>
    public static string Fit(string text, int max)
    {
        StringBuilder kept = new();
        bool blank = false;
        foreach (Rune rune in text.EnumerateRunes()) // a lone surrogate comes as the replacement character
        {
            if (Rune.IsWhiteSpace(rune) || rune.Value is 0 or 0xFEFF)
            {
                blank = kept.Length > 0;
                continue;
            }

            if (kept.Length + (blank ? 1 : 0) + rune.Utf16SequenceLength > max)
            {
                break;
            }

            _ = blank ? kept.Append(' ') : kept;
            blank = false;
            kept.Append(rune.ToString());
        }

        return kept.ToString();
    }

    private static bool IsFormula(string text) => text.Length > 0 && text[0] is ('=' or '+' or '-' or '@');
}
