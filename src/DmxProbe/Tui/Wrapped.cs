namespace DmxProbe.Tui;

/// <summary>Sentences on several rows.</summary>
internal static class Wrapped
{
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
    public static string Cut(string text, int width) => text.Length <= width ? text : width <= 1 ? text[..Math.Max(0, width)] : text[..(width - 1)] + "…";

    /// <summary>A text at exactly a width.</summary>
    public static string Fit(string text, int width) => Cut(text, width).PadRight(width);
}
