using System.Text.RegularExpressions;
using nietras.SeparatedValues;

namespace DmxProbe.Fixtures.Tables;

/// <summary>Reads CSV of any separator into a <see cref="Grid"/>.</summary>
internal static partial class CsvGrid
{
    private const int LinesWeighed = 40;
    private static readonly (char Separator, string Name)[] Separators = [(',', "commas"), (';', "semicolons"), ('\t', "tabs"), ('|', "pipes")];

    /// <summary>Reads the rows; null and a problem when it cannot be a table.</summary>
    /// <param name="text">The text.</param>
    /// <param name="encoding">Name of its encoding, for the format.</param>
    /// <param name="problem">What is wrong.</param>
    public static Grid? Read(string text, string encoding, out TableProblem? problem)
    {
        char? stated = StatedSeparator(text);
        using StringReader reader = new(text);
        string? kept = TableText.Prepare(reader, out _, out _, out problem);
        if (kept is null)
        {
            return null;
        }

        if (stated is not null)
        {
            kept = kept[kept.IndexOf('\n', StringComparison.Ordinal)..]; // the line feed stays: line numbers must not move
        }

        char separator = stated ?? SeparatorOf(kept);
        List<GridRow> rows = [];
        using SepReader csv = Sep.New(separator).Reader(options => options with { HasHeader = false, Unescape = true, DisableColCountCheck = true }).FromText(kept);
        bool first = true;
        foreach (SepReader.Row row in csv)
        {
            int line = first ? 1 : row.LineNumberFrom; // the library numbers the first row of a text without headings as 2
            first = false;
            int count = Math.Min(row.ColCount, Grid.MaxColumns);
            while (count > 0 && row[count - 1].Span.IsWhiteSpace())
            {
                count--;
            }

            if (count == 0)
            {
                continue;
            }

            if (rows.Count == Grid.MaxRows)
            {
                problem = new TableProblem("too many rows", line, "", "at most " + Shown.Number(Grid.MaxRows), "more", "check that it is the right file");
                return null;
            }

            string[] cells = new string[count];
            for (int i = 0; i < count; i++)
            {
                cells[i] = Plain(row[i].Span.Trim());
            }

            rows.Add(new GridRow(line, cells));
        }

        string name = Separators.FirstOrDefault(known => known.Separator == separator).Name ?? $"separator {Shown.Quoted(separator.ToString())}";
        return new Grid($"CSV, {name}, {encoding}", rows);
    }

    /// <summary>Text that begins as a formula does is written with an apostrophe in front; it is no part of the text.</summary>
    private static string Plain(ReadOnlySpan<char> cell) =>
        (cell.Length > 1 && cell[0] == '\'' && cell[1] is '=' or '+' or '-' or '@' or '\'' ? cell[1..] : cell).ToString();

    /// <summary>Spreadsheets may say the separator in a first line of its own: <c>sep=;</c>.</summary>
    private static char? StatedSeparator(string text)
    {
        Match said = SaidSeparator().Match(text.Length > 16 ? text[..16] : text);
        return said.Success ? said.Groups[1].Value[0] : null;
    }

    /// <summary>
    /// The separator that splits most of the first lines into the same number of cells. Titles above the table hold none, and
    /// decimal commas in one column lose against the separator that stands between all of them.
    /// </summary>
    private static char SeparatorOf(string text)
    {
        int[][] counts = [.. Separators.Select(_ => new int[LinesWeighed])];
        int line = 0;
        bool quoted = false, any = false;
        foreach (char c in text)
        {
            if (c == '\n' && !quoted)
            {
                line += any ? 1 : 0;
                any = false;
                if (line == LinesWeighed)
                {
                    break;
                }

                continue;
            }

            any |= !char.IsWhiteSpace(c);
            quoted ^= c == '"';
            for (int i = 0; !quoted && i < Separators.Length; i++)
            {
                counts[i][line] += c == Separators[i].Separator ? 1 : 0;
            }
        }

        int best = 0;
        (int Lines, int Cells) bestScore = default;
        for (int i = 0; i < Separators.Length; i++)
        {
            // The lines that agree on one number of separators, and that number: both must be high.
            (int Lines, int Cells) score = counts[i].Where(count => count > 0).GroupBy(count => count)
                .Select(same => (Lines: same.Count(), Cells: same.Key)).OrderByDescending(pair => pair.Lines * pair.Cells).FirstOrDefault();
            if (score.Lines * score.Cells > bestScore.Lines * bestScore.Cells)
            {
                (best, bestScore) = (i, score);
            }
        }

        return Separators[best].Separator;
    }

    [GeneratedRegex("^\uFEFF?\"?sep=([,;|\\t])\"?\\s*[\r\n]", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex SaidSeparator();
}
