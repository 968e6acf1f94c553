using System.Globalization;

namespace DmxProbe.Fixtures.Tables;

/// <summary>One row: its line and its cells by the table's own order of columns.</summary>
internal readonly struct TableRow(int line, string[] names, string[] cells)
{
    /// <summary>Line of the file, from 1.</summary>
    public int Line => line;

    /// <summary>A cell, trimmed; empty when the column or the cell is absent.</summary>
    public string this[int column] => cells[column];

    /// <summary>A problem of one cell.</summary>
    public TableProblem Problem(string what, int column, string expected, string advice) =>
        new(what, line, names[column], expected, Shown.Cell(cells[column]), advice);

    /// <summary>A cell as a whole number within bounds; otherwise a problem is added.</summary>
    public bool TryNumber(int column, int min, int max, string advice, ProblemList problems, out int value)
    {
        if (!int.TryParse(cells[column], NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out value))
        {
            problems.Add(Problem("not a whole number", column, string.Create(CultureInfo.InvariantCulture, $"{min} to {max}"), advice));
            return false;
        }

        if (value < min || value > max)
        {
            problems.Add(Problem("a number out of range", column, string.Create(CultureInfo.InvariantCulture, $"{min} to {max}"), advice));
            return false;
        }

        return true;
    }

    /// <summary>A cell as a name: not empty unless that is allowed, not longer than the bound; otherwise a problem is added.</summary>
    public bool TryName(int column, int maxLength, bool mayBeEmpty, ProblemList problems)
    {
        if (cells[column].Length == 0 && !mayBeEmpty)
        {
            problems.Add(Problem("an empty cell", column, "a name", "fill it in, or put # in front of the line to leave it out"));
            return false;
        }

        if (cells[column].Length > maxLength)
        {
            problems.Add(Problem("a text that is too long", column, string.Create(CultureInfo.InvariantCulture, $"at most {maxLength} characters"), "shorten it"));
            return false;
        }

        return true;
    }
}
