using System.Globalization;
using System.Xml;

namespace DmxProbe.Fixtures.Tables.Xlsx;

/// <summary>Reads one worksheet, row by row as its XML comes.</summary>
internal sealed class XlsxSheet(XlsxStrings strings, XlsxFormats formats)
{
    private const int MaxMerges = 20_000;
    private const int MaxRow = 1_048_576;
    private readonly SortedDictionary<int, Row> _rows = [];
    private readonly List<(int Row, int Column, int LastRow, int LastColumn)> _merges = [];
    private long _characters;

    /// <summary>Reads it.</summary>
    /// <exception cref="OverLimitException">A bound is passed; the message is ours.</exception>
    /// <exception cref="XmlException">The part is broken.</exception>
    public Grid Read(XmlReader xml, string name)
    {
        int row = 0, column = -1;
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element)
            {
                continue;
            }

            switch (xml.LocalName)
            {
                case "row":
                    row = int.TryParse(xml.GetAttribute("r"), NumberStyles.None, CultureInfo.InvariantCulture, out int stated) && stated is > 0 and <= MaxRow ? stated : row + 1;
                    column = -1;
                    break;
                case "c":
                    column = PlaceOf(xml.GetAttribute("r")) is (int, int) place ? place.Column : column + 1;
                    Cell(xml, row, column);
                    break;
                case "mergeCell" when _merges.Count < MaxMerges && (xml.GetAttribute("ref") ?? "").Split(':') is [string from, string to]
                    && PlaceOf(from) is (int, int) first && PlaceOf(to) is (int, int) last:
                    _merges.Add((first.Row, first.Column, last.Row, last.Column));
                    break;
                default:
                    break;
            }
        }

        FillMerged();
        return new Grid($"xlsx, worksheet {Shown.Quoted(name)}", [.. _rows.Select(pair => pair.Value.ToGrid(pair.Key)).Where(kept => kept.Cells.Length > 0)], name);
    }

    private static (int Row, int Column)? PlaceOf(string? reference)
    {
        int digits = reference.AsSpan().IndexOfAnyInRange('0', '9');
        return digits > 0 && int.TryParse(reference.AsSpan(digits), NumberStyles.None, CultureInfo.InvariantCulture, out int row) && row is > 0 and <= MaxRow
            ? (row, Grid.Column(reference![..digits]) is int column and >= 0 ? column : Grid.MaxColumns)
            : null;
    }

    private void Cell(XmlReader xml, int row, int column)
    {
        string type = xml.GetAttribute("t") ?? "n";
        int style = int.TryParse(xml.GetAttribute("s"), NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : 0;
        if (xml.IsEmptyElement)
        {
            return;
        }

        string value = "";
        bool formula = false;
        int depth = xml.Depth;
        while (xml.Read() && xml.Depth > depth)
        {
            if (xml.NodeType != XmlNodeType.Element)
            {
                continue;
            }

            formula |= xml.LocalName == "f";
            if (xml.LocalName == "is")
            {
                value = XlsxStrings.Text(xml);
            }
            else if (xml.LocalName == "v" && !xml.IsEmptyElement && xml.Read() && xml.NodeType is XmlNodeType.Text or XmlNodeType.CDATA or XmlNodeType.SignificantWhitespace)
            {
                value = xml.Value.Length > XlsxStrings.MaxCell ? xml.Value[..XlsxStrings.MaxCell] : xml.Value;
            }
        }

        if (column >= Grid.MaxColumns || (value.Length == 0 && !formula))
        {
            return;
        }

        (string text, string? doubt) = ValueOf(type, style, value, formula);
        Put(row, column, text.Trim(), doubt);
    }

    private (string Text, string? Doubt) ValueOf(string type, int style, string value, bool formula)
    {
        if (value.Length == 0 && formula)
        {
            return ("", "a formula without a saved value");
        }

        switch (type)
        {
            case "s":
                return (int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out int index) ? strings[index] : "", null);
            case "b":
                return (value == "1" ? "TRUE" : "FALSE", null);
            case "e":
                return (value, "a formula that failed");
            case "str" or "inlineStr":
                return (value, null);
            case "d":
                return (value, "a date");
            default:
                return double.TryParse(value, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number) && Math.Abs(number) < 1e12
                    ? (formats.Show(number, style), formats.IsDate(style) ? "a date" : null)
                    : (value, null);
        }
    }

    private void Put(int row, int column, string text, string? doubt)
    {
        if (!_rows.TryGetValue(row, out Row? kept))
        {
            if (_rows.Count >= Grid.MaxRows)
            {
                throw new OverLimitException($"a worksheet of more than {Shown.Number(Grid.MaxRows)} rows");
            }

            _rows[row] = kept = new Row();
        }

        _characters += text.Length + 1;
        if (_characters > XlsxStrings.MaxCharacters)
        {
            throw new OverLimitException("a worksheet of more than 16 million characters");
        }

        kept.Put(column, text, doubt);
    }

    // Only rows that are there are filled: a range merged to the end of the worksheet must not make a million rows.
    private void FillMerged()
    {
        int[] rows = [.. _rows.Keys];
        foreach ((int row, int column, int lastRow, int lastColumn) in _merges)
        {
            if (!_rows.TryGetValue(row, out Row? top) || top.Text(column) is not { Length: > 0 } text || lastColumn != column)
            {
                continue; // merged over columns is a heading: its text stays where it is
            }

            int at = Array.BinarySearch(rows, row);
            for (int i = at + 1; i > 0 && i < rows.Length && rows[i] <= lastRow; i++)
            {
                Put(rows[i], column, text, top.Doubt(column));
            }
        }
    }

    private sealed class Row
    {
        private readonly List<string> _cells = [];
        private Dictionary<int, string>? _doubts;

        public string Text(int column) => column < _cells.Count ? _cells[column] : "";

        public string? Doubt(int column) => _doubts?.GetValueOrDefault(column);

        public void Put(int column, string text, string? doubt)
        {
            while (_cells.Count <= column)
            {
                _cells.Add("");
            }

            _cells[column] = text;
            if (doubt is not null)
            {
                (_doubts ??= [])[column] = doubt;
            }
        }

        public GridRow ToGrid(int line)
        {
            int count = _cells.Count;
            while (count > 0 && _cells[count - 1].Length == 0 && _doubts?.ContainsKey(count - 1) != true)
            {
                count--;
            }

            return new GridRow(line, [.. _cells.Take(count)]) { Doubts = _doubts };
        }
    }
}
