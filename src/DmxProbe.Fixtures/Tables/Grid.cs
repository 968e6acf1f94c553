namespace DmxProbe.Fixtures.Tables;

/// <summary>A sheet as rows of cells, before anything is known about its columns. Text is untrusted.</summary>
/// <param name="Format">What kind of file it is and how that was decided, for a person: <c>CSV, semicolons, Windows-1252 (not valid UTF-8)</c>.</param>
/// <param name="Rows">The rows that hold anything, in order.</param>
/// <param name="Name">Name of the worksheet; empty for CSV.</param>
internal sealed record Grid(string Format, IReadOnlyList<GridRow> Rows, string Name = "")
{
    /// <summary>Most rows of one grid: the units of a sheet, several lines for each, and its headings.</summary>
    public const int MaxRows = 100_000;

    /// <summary>Columns looked at; what stands further right is no patch.</summary>
    public const int MaxColumns = 256;

    /// <summary>The letters of a column as spreadsheets count them: 0 is A, 26 is AA.</summary>
    public static string Letters(int column)
    {
        string letters = "";
        for (int rest = column; rest >= 0; rest = (rest / 26) - 1)
        {
            letters = (char)('A' + (rest % 26)) + letters;
        }

        return letters;
    }

    /// <summary>The column of some letters, from 0; -1 when they are none or lie beyond what is read.</summary>
    public static int Column(string letters)
    {
        int column = 0;
        foreach (char c in letters)
        {
            int digit = char.ToUpperInvariant(c) - 'A' + 1;
            if (digit is < 1 or > 26 || column > MaxColumns)
            {
                return -1;
            }

            column = (column * 26) + digit;
        }

        return column is > 0 and <= MaxColumns ? column - 1 : -1;
    }
}
