using nietras.SeparatedValues;

namespace DmxProbe.Fixtures.Tables;

/// <summary>A CSV text with named columns: separators, quotes and line ends are the library's work, names and refusals are ours.</summary>
internal static class Table
{
    /// <summary>Reads the rows of a table.</summary>
    /// <param name="reader">The text.</param>
    /// <param name="required">Columns that must be there; the cells of a row come in this order, then <paramref name="optional"/>.</param>
    /// <param name="optional">Columns that may be there.</param>
    /// <param name="maxRows">More rows are refused.</param>
    /// <param name="problems">Receives what is wrong.</param>
    /// <returns>The rows; empty when there is a problem with the table as a whole.</returns>
    public static List<TableRow> Read(TextReader reader, string[] required, string[] optional, int maxRows, ProblemList problems)
    {
        List<TableRow> rows = [];
        string? text = TableText.Prepare(reader, out char separator, out int headerLine, out TableProblem? refused);
        if (text is null)
        {
            problems.Add(refused!);
            return rows;
        }

        string[] names = [.. required, .. optional];
        int[]? places = null;
        int headerCount = 0;
        using SepReader csv = Sep.New(separator).Reader(options => options with { HasHeader = false, Unescape = true, DisableColCountCheck = true }).FromText(text);
        foreach (SepReader.Row row in csv)
        {
            if (IsBlank(row))
            {
                continue;
            }

            if (places is null)
            {
                // The library numbers the first row of a text without header as 2: our own count is right.
                places = Places(row, headerLine, names, required.Length, problems);
                headerCount = row.ColCount;
                if (places is null)
                {
                    return rows;
                }
            }
            else if (rows.Count == maxRows)
            {
                problems.Add(new TableProblem("too many rows", row.LineNumberFrom, "", "at most " + Shown.Number(maxRows), "more", "check that it is the right file"));
                return rows;
            }
            else if (TryCells(row, places, headerCount, problems, out string[] cells))
            {
                rows.Add(new TableRow(row.LineNumberFrom, names, cells));
            }
        }

        if (rows.Count == 0 && !problems.Any)
        {
            problems.Add(new TableProblem("the file has no rows", 0, "", places is null ? "a header " + string.Join(',', required) + " and rows below it" : "rows below the header",
                "none", "check that it is the right file and that it was saved"));
        }

        return rows;
    }

    private static bool IsBlank(SepReader.Row row)
    {
        for (int i = 0; i < row.ColCount; i++)
        {
            if (!row[i].Span.IsWhiteSpace())
            {
                return false;
            }
        }

        return true;
    }

    private static int[]? Places(SepReader.Row header, int line, string[] names, int required, ProblemList problems)
    {
        string[] found = new string[header.ColCount];
        for (int i = 0; i < found.Length; i++)
        {
            found[i] = header[i].Span.Trim().ToString();
        }

        int[] places = new int[names.Length];
        List<string> missing = [];
        for (int i = 0; i < names.Length; i++)
        {
            places[i] = Array.FindIndex(found, name => name.Equals(names[i], StringComparison.OrdinalIgnoreCase));
            if (places[i] >= 0 && Array.FindLastIndex(found, name => name.Equals(names[i], StringComparison.OrdinalIgnoreCase)) != places[i])
            {
                problems.Add(new TableProblem("a column is there twice", line, names[i], "each name once", "two of it", "rename one of them"));
            }

            if (places[i] < 0 && i < required)
            {
                missing.Add(names[i]);
            }
        }

        if (missing.Count > 0)
        {
            string columns = string.Join(", ", found.Take(names.Length + 1).Select(Shown.Cell)) + (found.Length > names.Length + 1 ? " ..." : "");
            problems.Add(new TableProblem(missing.Count == 1 ? "a column is missing" : "columns are missing", line, string.Join(", ", missing),
                "a header with " + string.Join(',', names.Take(required)), columns, "name the columns so, in any order and case"));
        }

        return problems.Any ? null : places;
    }

    private static bool TryCells(SepReader.Row row, int[] places, int headerCount, ProblemList problems, out string[] cells)
    {
        cells = new string[places.Length];
        for (int i = headerCount; i < row.ColCount; i++)
        {
            if (!row[i].Span.IsWhiteSpace())
            {
                problems.Add(new TableProblem("a row is longer than the header", row.LineNumberFrom, "", Shown.Number(headerCount) + " cells", Shown.Number(row.ColCount),
                    "put text that holds a separator in quotes"));
                return false;
            }
        }

        for (int i = 0; i < places.Length; i++)
        {
            cells[i] = places[i] >= 0 && places[i] < row.ColCount ? row[places[i]].Span.Trim().ToString() : "";
        }

        return true;
    }
}
