using System.Text;

using Terminal.Gui.Text;

namespace DmxProbe.Tui;

/// <summary>Sentences on several rows.</summary>
internal static class Wrapped
{
    private const int FirstUncommon = 0x300;

    /// <summary>Breaks a sentence between words into so many rows at most; the last then ends with a mark, as does a word cut.</summary>
    public static IEnumerable<ScreenRow> Rows(string sentence, int width, string indent, Tint tint, int most)
    {
        List<ScreenRow> rows = [.. Rows(sentence, width, indent, tint)];
        return rows.Count <= most ? rows : rows.Take(most - 1).Append(rows[most - 1] with { Text = Cut(rows[most - 1].Text, width - 1) + (rows[most - 1].Text.Length < width ? "…" : "") });
    }

    /// <summary>Breaks a sentence between words; a word that is too long is cut.</summary>
    public static IEnumerable<ScreenRow> Rows(string sentence, int width, string indent, Tint tint = Tint.Plain)
    {
        string row = indent;
        foreach (string word in sentence.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (row.Length > indent.Length && row.Length + 1 + word.Length > width)
            {
                yield return new ScreenRow(row, tint);
                row = indent;
            }

            row += (row.Length > indent.Length ? " " : "") + Cut(word, Math.Max(1, width - indent.Length));
        }

        yield return new ScreenRow(row, tint);
    }

    /// <summary>A text cut to a width, with a mark where something is missing.</summary>
    public static string Cut(string text, int width)
    {
        if (Columns(text) <= width)
        {
            return text;
        }

        int kept = 0;
        int columns = 0;
        foreach (Rune rune in text.EnumerateRunes())
        {
            columns += Math.Max(0, rune.GetColumns());
            if (columns > width - 1)
            {
                break;
            }

            kept += rune.Utf16SequenceLength;
        }

        return width <= 1 ? text[..Math.Min(kept, Math.Max(0, width))] : text[..kept] + "…";
    }

    /// <summary>A text at exactly a width.</summary>
    public static string Fit(string text, int width)
    {
        string cut = Cut(text, width);
        return cut + new string(' ', Math.Max(0, width - Columns(cut)));
    }

    /// <summary>Whether every character takes one column, so that places in the text are columns.</summary>
    public static bool IsPlain(string text) => !text.AsSpan().ContainsAnyExceptInRange(' ', (char)(FirstUncommon - 1));

    // Letters of some scripts take two columns, marks none.
    private static int Columns(string text)
    {
        int columns = 0;
        foreach (Rune rune in text.EnumerateRunes())
        {
            columns += rune.Value < FirstUncommon ? 1 : Math.Max(0, rune.GetColumns());
        }

        return columns;
    }
}
