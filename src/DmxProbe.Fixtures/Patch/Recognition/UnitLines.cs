using System.Globalization;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch.Recognition;

/// <summary>
/// Goes through the rows below the headings: tells units from repeated headings, section titles, unpatched units and lines
/// that continue the unit above, and makes the units.
/// </summary>
internal sealed class UnitLines(Grid grid, ColumnFinder columns, PatchReadOptions options)
{
    private const int LinesNamed = 5;
    private const int MaxText = 500;
    private readonly ProblemList _problems = new();
    private readonly List<SheetLine> _lines = [];
    private readonly Dictionary<GridRow, string> _sections = new(ReferenceEqualityComparer.Instance);
    private readonly List<int> _repeated = [], _unpatched = [], _left = [], _filled = [], _fixed = [];
    private readonly List<string> _notes = [];
    private int _universeBase = 1;

    /// <summary>What was decided, a sentence each.</summary>
    public IReadOnlyList<string> Notes => _notes;

    /// <summary>Makes the sheet; null with the problems.</summary>
    public PatchSheet? Read(out IReadOnlyList<TableProblem> problems)
    {
        Collect();
        SheetAddresses? addresses = null;
        if (!_problems.Any && _lines.Count > 0)
        {
            addresses = SheetAddresses.Decide(_lines, columns[PatchColumn.Universe] >= 0, options, out TableProblem? question);
            if (question is not null)
            {
                problems = [question];
                return null;
            }
        }

        List<PatchUnit> units = addresses is null ? [] : Units(addresses);
        if (units.Count == 0 && !_problems.Any)
        {
            _problems.Add(new TableProblem("the file has no rows", 0, "", "rows with a unit and an address below the headings", "none", "check that it is the right file and that it was saved"));
        }

        Tell(_repeated, "headings repeated on {0} left out");
        Tell(_unpatched, "no address yet on {0}: left out");
        Tell(_left, "neither unit nor address on {0}: left out");
        Tell(_filled, "the universe of the line above holds on {0}");
        Tell(_fixed, "the unit of the line above again with another type on {0}: taken as a part fixed to it, NAME/2");
        problems = _problems.Problems;
        return _problems.Any ? null : new PatchSheet(units) { UniverseBase = _universeBase };
    }

    private void Collect()
    {
        string section = "";
        GridRow? headings = columns.HeadingRow < 0 ? null : grid.Rows[columns.HeadingRow];
        int unit = columns[PatchColumn.Unit], address = columns[PatchColumn.Address], universe = columns[PatchColumn.Universe];
        foreach (GridRow row in grid.Rows.Skip(columns.HeadingRow + 1))
        {
            if (_problems.Full)
            {
                return;
            }

            if (headings is not null && Repeats(row, headings))
            {
                _repeated.Add(row.Line);
            }
            else if (Doubt(row) is { } doubt)
            {
                _problems.Add(doubt);
            }
            else if (AddressText.IsOpen(row[address]) || (row[address].Length == 0 && (row[unit].Length > 0 || universe < 0 || row[universe].Length == 0)))
            {
                int cells = row.Cells.Count(cell => cell.Length > 0);
                section = cells == 1 && row[address].Length == 0 ? row.Cells.First(cell => cell.Length > 0) : section;
                (cells == 1 || row[unit].Length == 0 ? _left : _unpatched).Add(row.Line);
            }
            else if (Line(row) is { } line)
            {
                _lines.Add(line);
                _sections[row] = section;
            }
        }
    }

    private SheetLine? Line(GridRow row)
    {
        string cell = row[columns[PatchColumn.Address]];
        if (!AddressText.TryParse(cell, out AddressText address))
        {
            _problems.Add(AddressText.IsDate(cell)
                ? Problem("a date where an address should be", row, PatchColumn.Address, "an address", "the spreadsheet made a date of an address such as 1-12: set the column to text and type it again")
                : Problem("not an address", row, PatchColumn.Address, "1 to 512, or universe.address as in 2.061", "write it so, or put # in front of the line to leave it out"));
            return null;
        }

        string own = row[columns[PatchColumn.Universe]];
        UniverseText universe = default;
        if (own.Length > 0 && !UniverseText.TryParse(own, out universe))
        {
            _problems.Add(Problem("not a universe", row, PatchColumn.Universe, "a number, a letter, or Net:Sub-Net:Universe as in 0:0:1", "use the sheet's own number of the universe"));
            return null;
        }

        return new SheetLine(row, address, cell, own.Length > 0 ? universe : null, own);
    }

    private List<PatchUnit> Units(SheetAddresses addresses)
    {
        List<PatchUnit> units = [];
        UniverseText? above = null;
        bool column = columns[PatchColumn.Universe] >= 0;
        (string, string) names = (Name(PatchColumn.Address), Name(PatchColumn.Universe));
        _universeBase = addresses.UniverseBase;
        PatchUnit? open = null;
        int openLast = 0;
        foreach (SheetLine line in _lines)
        {
            bool none = line.Universe is null && (line.Address.Universe.Length == 0 || line.Address.IsDashPair);
            if (none && column && above is null && line.Address.Address <= 512)
            {
                _problems.Add(Problem("no universe", line.Row, PatchColumn.Universe, "a number, a letter, or Net:Sub-Net:Universe as in 0:0:1", "use the sheet's own number of the universe"));
                continue;
            }

            if (none && column && line.Address.Address <= 512)
            {
                _filled.Add(line.Row.Line);
            }

            above = line.Universe ?? above;
            if (addresses.Place(line, above, names, _problems) is not var (universe, address, footprint) || !Fits(line.Row))
            {
                continue;
            }

            PatchUnit unit = Unit(line.Row, universe, address, footprint);
            bool continues = open is not null && (unit.Unit.Length == 0 || unit.Unit.Equals(open.Unit, StringComparison.OrdinalIgnoreCase));
            if (continues && columns[PatchColumn.Function] >= 0 && universe == open!.Universe && address == openLast + 1)
            {
                // A line for each slot: the unit starts at its first line and grows.
                openLast = address;
                units[^1] = open = open with { StatedFootprint = openLast - open.Address + 1 };
                continue;
            }

            if (unit.Unit.Length == 0)
            {
                if (open is null || unit.Type.Length > 0)
                {
                    _problems.Add(Problem("an empty cell", line.Row, PatchColumn.Unit, "a name", "fill it in, or put # in front of the line to leave it out"));
                    continue;
                }

                int part = 2 + units.Count(known => known.Unit.StartsWith(open.Unit + "/", StringComparison.Ordinal) && known.Line > open.Line);
                units.Add(unit with { Unit = string.Create(CultureInfo.InvariantCulture, $"{open.Unit}/{part}"), Type = open.Type, Mode = unit.Mode.Length > 0 ? unit.Mode : open.Mode, Position = open.Position, Chain = open.Chain, Circuit = open.Circuit });
                continue;
            }

            if (continues && !unit.Type.Equals(open!.Type, StringComparison.OrdinalIgnoreCase))
            {
                // One number for a unit and what is fixed to it: two parts of it, each with its own address.
                unit = unit with { Unit = open.Unit + "/2" };
                _fixed.Add(line.Row.Line);
            }
            else
            {
                open = unit;
                openLast = address + Math.Max(footprint, 1) - 1;
            }

            if (unit.Type.Length == 0)
            {
                _problems.Add(Problem("an empty cell", line.Row, PatchColumn.Type, "a name", "fill it in, or put # in front of the line to leave it out"));
                continue;
            }

            units.Add(unit);
            if (units.Count > PatchReader.MaxUnits)
            {
                _problems.Add(new TableProblem("too many rows", line.Row.Line, "", "at most " + Shown.Number(PatchReader.MaxUnits), "more", "check that it is the right file"));
                break;
            }
        }

        addresses.Finish(column, _lines);
        _notes.AddRange(addresses.Notes);
        return units;
    }

    private PatchUnit Unit(GridRow row, int universe, int address, int footprint)
    {
        string type = row[columns[PatchColumn.Type]], mode = row[columns[PatchColumn.Mode]];
        if (mode.Length == 0)
        {
            (type, mode) = TypeAndMode.Split(type);
        }

        string chain = row[columns[PatchColumn.Chain]], position = row[columns[PatchColumn.Position]];
        string[] shared = row[columns[PatchColumn.SharesWith]].Split(['|', '+', '&', '\n'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        return new PatchUnit(row[columns[PatchColumn.Unit]], type, mode, universe, address,
            position.Length == 0 && columns[PatchColumn.Position] < 0 ? _sections[row] : position,
            chain, row[columns[PatchColumn.Circuit]], shared, row[columns[PatchColumn.Note]], row.Line)
        {
            ChainOrder = Count(row[columns[PatchColumn.Order]]),
            Wireless = row[columns[PatchColumn.Wireless]],
            StatedFootprint = footprint > 0 ? footprint : Math.Min(Count(row[columns[PatchColumn.Footprint]]), 512),
        };
    }

    private static int Count(string cell) => int.TryParse(cell, NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : 0;

    private bool Fits(GridRow row)
    {
        bool fits = true;
        foreach (RecognisedColumn column in columns.Columns)
        {
            int most = column.Column is PatchColumn.Note or PatchColumn.Position or PatchColumn.SharesWith ? MaxText : PatchReader.MaxName;
            if (row[Grid.Column(column.Letters)].Length > most)
            {
                fits = false;
                _problems.Add(Problem("a text that is too long", row, column.Column, string.Create(CultureInfo.InvariantCulture, $"at most {most} characters"), "shorten it"));
            }
        }

        return fits;
    }

    private bool Repeats(GridRow row, GridRow headings) => columns.Columns.Where(column => column.Column is PatchColumn.Unit or PatchColumn.Type or PatchColumn.Address)
        .All(column => column.Heading.Length > 0 && row[Grid.Column(column.Letters)].Equals(headings[Grid.Column(column.Letters)], StringComparison.OrdinalIgnoreCase));

    private TableProblem? Doubt(GridRow row)
    {
        foreach (RecognisedColumn column in columns.Columns.Where(_ => row.Doubts is not null))
        {
            if (row.Doubts!.TryGetValue(Grid.Column(column.Letters), out string? doubt) && column.Column <= PatchColumn.Address)
            {
                return doubt == "a date" && column.Column != PatchColumn.Address && column.Column != PatchColumn.Universe ? null
                    : new TableProblem(doubt + " where a value should be", row.Line, Name(column.Column), column.Column == PatchColumn.Address ? "an address" : "text or a number",
                        Shown.Cell(row[Grid.Column(column.Letters)]),
                        doubt == "a date" ? "the spreadsheet made a date of an address such as 1-12: set the column to text and type it again" : "open the sheet in a spreadsheet, let it calculate, and save it again");
            }
        }

        return null;
    }

    private TableProblem Problem(string what, GridRow row, PatchColumn column, string expected, string advice) =>
        new(what, row.Line, Name(column), expected, Shown.Cell(row[columns[column]]), advice);

    private string Name(PatchColumn column)
    {
        RecognisedColumn? found = columns.Columns.FirstOrDefault(known => known.Column == column);
        return found is null ? column.ToString().ToLowerInvariant()
            : HeadingWords.Weight(column, found.Heading) == HeadingWords.Ours ? found.Heading
            : found.Heading.Length == 0 ? found.Letters : $"{found.Letters} {Shown.Quoted(found.Heading)}";
    }

    private void Tell(List<int> lines, string sentence)
    {
        if (lines.Count > 0)
        {
            string named = string.Join(", ", lines.Take(LinesNamed).Select(Shown.Number)) + (lines.Count > LinesNamed ? $" and {Shown.Number(lines.Count - LinesNamed)} more" : "");
            _notes.Add(string.Format(CultureInfo.InvariantCulture, sentence, (lines.Count == 1 ? "line " : "lines ") + named));
        }
    }
}
