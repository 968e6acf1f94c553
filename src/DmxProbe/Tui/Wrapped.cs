using System.Text;

using Terminal.Gui.Text;

namespace DmxProbe.Tui;

/// <summary>Sentences on several rows.</summary>
internal static class Wrapped
{
    private const int FirstUncommon = 0x300;

    /// <summary>Breaks a sentence between words into so many rows at most; the last then ends with a mark, as does a word cut.</summary>
    public static List<ScreenRow> Rows(string sentence, int width, string indent, Tint tint, int most)
    {
        List<ScreenRow> rows = Rows(sentence, width, indent, tint);
        if (rows.Count > most)
        {
            string last = rows[most - 1].Text;
            rows[most - 1] = rows[most - 1] with { Text = Cut(last, width - 1) + (last.Length < width ? "…" : "") };
            rows.RemoveRange(most, rows.Count - most);
        }

        return rows;
    }

    /// <summary>Breaks a sentence between words; a word that is too long is cut.</summary>
    public static List<ScreenRow> Rows(string sentence, int width, string indent, Tint tint = Tint.Plain)
    {
        List<ScreenRow> rows = [];
        ReadOnlySpan<char> words = sentence;
        RowText row = Begun(indent);
        int length = indent.Length;
        foreach (Range place in words.Split(' '))
        {
            ReadOnlySpan<char> word = words[place];
            if (word.IsEmpty)
            {
                continue;
            }

            if (length > indent.Length && length + 1 + word.Length > width)
            {
                rows.Add(new ScreenRow(RowTexts.Of(row), tint));
                row = Begun(indent);
                length = indent.Length;
            }

            int most = Math.Max(1, width - indent.Length);
            int kept = Kept(word, most);
            string between = length > indent.Length ? " " : "";
            string mark = kept < word.Length && most > 1 ? "…" : "";
            row.AppendFormatted(between);
            row.AppendFormatted(word[..kept]);
            row.AppendFormatted(mark);
            length += between.Length + kept + mark.Length;
        }

        rows.Add(new ScreenRow(RowTexts.Of(row), tint));
        return rows;
    }

    private static RowText Begun(string indent)
    {
        RowText row = new(0, 0);
        row.AppendLiteral(indent);
        return row;
    }

    /// <summary>A text cut to a width, with a mark where something is missing.</summary>
    public static string Cut(string text, int width) => Kept(text, width) is int kept && kept < text.Length ? text[..kept] + (width > 1 ? "…" : "") : text;

    /// <summary>How many characters of a text stay where it is cut to a width; all where it fits.</summary>
    public static int Kept(ReadOnlySpan<char> text, int width)
    {
        if (Columns(text) <= width)
        {
            return text.Length;
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

        return width <= 1 ? Math.Min(kept, Math.Max(0, width)) : kept;
    }

    /// <summary>A text at exactly a width.</summary>
    public static string Fit(string text, int width)
    {
        string cut = Cut(text, width);
        return cut + new string(' ', Math.Max(0, width - Columns(cut)));
    }

    /// <summary>Whether every character takes one column, so that places in the text are columns.</summary>
    public static bool IsPlain(string text) => !text.AsSpan().ContainsAnyExceptInRange(' ', (char)(FirstUncommon - 1));

    /// <summary>The columns of a text: letters of some scripts take two, marks none.</summary>
    public static int Columns(ReadOnlySpan<char> text)
    {
        int columns = 0;
        foreach (Rune rune in text.EnumerateRunes())
        {
            columns += rune.Value < FirstUncommon ? 1 : Math.Max(0, rune.GetColumns());
        }

        return columns;
    }
}
