using System.Globalization;
using System.Text;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>The first part of a CSV as a table: separator, decimal sign, where the rows start and which columns hold values.</summary>
internal sealed class CsvHead
{
    private readonly List<byte[]> _lines = [];

    /// <summary>Looks at the start of a text.</summary>
    /// <param name="head">Its first part; an unfinished last line is left out.</param>
    public CsvHead(ReadOnlySpan<byte> head)
    {
        SetLinesApart(head);
        FindSeparator();
        Values = FindRows();
    }

    /// <summary>Between cells; 0 where lines have one.</summary>
    public byte Separator { get; private set; }

    /// <summary>Whether decimals follow a comma.</summary>
    public bool DecimalComma { get; private set; }

    /// <summary>The first row, which is also how many lines stand before it.</summary>
    public int FirstRow { get; private set; }

    /// <summary>Columns that hold a value in every row, in order; whoever finds another use for one takes it out.</summary>
    public List<int> Values { get; }

    /// <summary>Its lines.</summary>
    public IReadOnlyList<byte[]> Lines => _lines;

    /// <summary>The rows.</summary>
    public IEnumerable<byte[]> Rows => _lines.Skip(FirstRow);

    /// <summary>The heading of each column; empty where it has none. A line of units under the names is joined: <c>Time (us)</c>.</summary>
    public string[] Headings()
    {
        Span<Range> cells = stackalloc Range[CsvText.MostCells];
        string[] headings = new string[CsvText.Split(_lines[FirstRow], Separator, cells)];
        Array.Fill(headings, "");
        int lines = 0;
        for (int at = FirstRow - 1; at >= 0 && lines < 2; at--, lines++)
        {
            byte[] line = _lines[at];
            if (CsvText.IsRemark(line) || CsvText.Split(line, Separator, cells) != headings.Length)
            {
                break;
            }

            bool isUnits = true;
            for (int i = 0; i < headings.Length; i++)
            {
                string text = CsvText.Text(line.AsSpan(cells[i]));
                headings[i] = lines == 0 ? text : text + " " + headings[i];
                isUnits &= text.Trim('(', ')', '[', ']').Length <= 6;
            }

            if (lines == 0 && !isUnits)
            {
                break;
            }
        }

        return headings;
    }

    /// <summary>The numbers of a column; cells that hold none are passed over.</summary>
    public List<decimal> Numbers(int column)
    {
        Span<Range> cells = stackalloc Range[CsvText.MostCells];
        List<decimal> numbers = [];
        for (int at = FirstRow; at < _lines.Count; at++)
        {
            _ = CsvText.Split(_lines[at], Separator, cells);
            if (CsvText.TryNumber(_lines[at].AsSpan(cells[column]), DecimalComma, out decimal number))
            {
                numbers.Add(number);
            }
        }

        return numbers;
    }

    /// <summary>The cells of a line as text.</summary>
    public string[] Cells(byte[] line)
    {
        Range[] cells = new Range[CsvText.MostCells];
        int count = CsvText.Split(line, Separator, cells);
        return [.. cells.Take(count).Select(cell => CsvText.Text(line.AsSpan(cell)).Trim())];
    }

    /// <summary>Refuses a text that is numbers but for a cell: a recording that somebody spoilt, and worth the place.</summary>
    /// <param name="name">Name to print.</param>
    /// <exception cref="InputException">It is one.</exception>
    public void RefuseNearlyNumbers(string name)
    {
        if (Separator == 0)
        {
            return;
        }

        int good = 0;
        (int Line, int Column, string Cell)? bad = null;
        for (int at = 0; at < _lines.Count; at++)
        {
            if (CsvText.IsRemark(_lines[at]))
            {
                continue;
            }

            string[] cells = Cells(_lines[at]);
            int column = Array.FindIndex(cells, cell => !IsValue(Encoding.UTF8.GetBytes(cell)));
            good += column < 0 ? 1 : 0;

            // A row begins with a number; other lines are words before the rows.
            bad ??= column > 0 ? (at + 1, column + 1, cells[column]) : null;
        }

        if (bad is var (line, place, found) && (2 * good > _lines.Count || _lines.Count == 1))
        {
            throw new InputException(name, new InputProblem(
                "the CSV cannot be read",
                string.Create(CultureInfo.InvariantCulture, $"line {line}, column {place}"),
                "a number",
                found.Length == 0 ? "nothing" : $"'{found}'",
                "correct the cell or export the recording again"));
        }
    }

    private void SetLinesApart(ReadOnlySpan<byte> head)
    {
        while (!head.IsEmpty)
        {
            int end = head.IndexOf((byte)'\n');
            if (end < 0)
            {
                break; // cut, here or in the file: no row to learn from
            }

            _lines.Add(head[..end].ToArray());
            head = head[(end + 1)..];
        }

        // Empty lines at the end are no rows.
        while (_lines.Count > 0 && CsvText.Bare(_lines[^1]).IsEmpty)
        {
            _lines.RemoveAt(_lines.Count - 1);
        }
    }

    private void FindSeparator()
    {
        foreach (byte separator in "\t;,"u8)
        {
            int with = _lines.Count(line => !CsvText.IsRemark(line) && line.AsSpan().Contains(separator));
            if (2 * with > _lines.Count(line => !CsvText.IsRemark(line)))
            {
                Separator = separator;
                break;
            }
        }

        if (Separator is not (byte)',')
        {
            DecimalComma = _lines.TakeLast(20).Any(line => line.AsSpan().Contains((byte)',')) && !_lines.TakeLast(20).Any(line => line.AsSpan().Contains((byte)'.'));
        }
    }

    // The columns that hold a value in every row, and where rows start: as far up as they look like the last.
    private List<int> FindRows()
    {
        if (_lines.Count == 0)
        {
            return [];
        }

        Span<Range> cells = stackalloc Range[CsvText.MostCells];
        byte[] last = _lines[^1];
        int count = CsvText.Split(last, Separator, cells);
        List<int> values = [];
        for (int column = 0; column < count; column++)
        {
            if (IsValue(last.AsSpan(cells[column])))
            {
                values.Add(column);
            }
        }

        FirstRow = _lines.Count;
        while (FirstRow > 0)
        {
            byte[] line = _lines[FirstRow - 1];
            if (CsvText.IsRemark(line) || CsvText.Split(line, Separator, cells) != count || !AreValues(line, cells, values))
            {
                break;
            }

            FirstRow--;
        }

        return values;
    }

    private bool AreValues(byte[] line, ReadOnlySpan<Range> cells, List<int> values)
    {
        foreach (int column in values)
        {
            if (!IsValue(line.AsSpan(cells[column])))
            {
                return false;
            }
        }

        return true;
    }

    private bool IsValue(ReadOnlySpan<byte> cell) => CsvText.TryNumber(cell, DecimalComma, out _) || CsvText.Level(cell) is not null;
}
