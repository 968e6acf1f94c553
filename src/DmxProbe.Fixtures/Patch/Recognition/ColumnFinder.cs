using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch.Recognition;

/// <summary>Finds the row of the headings and what each column holds, by headings and by content; or the one question that is open.</summary>
internal sealed class ColumnFinder
{
    private const int RowsForHeadings = 30;
    private const double Clear = 0.75;
    private static readonly PatchColumn[] Decisive = [PatchColumn.Address, PatchColumn.Universe, PatchColumn.Mode, PatchColumn.Type, PatchColumn.Unit];

    private readonly Grid _grid;
    private readonly PatchReadOptions _options;
    private readonly Dictionary<int, PatchColumn> _taken = [];
    private readonly Dictionary<PatchColumn, RecognisedColumn> _columns = [];
    private ColumnContent[] _contents = [];
    private int _width;

    /// <summary>Looks at a grid.</summary>
    public ColumnFinder(Grid grid, PatchReadOptions options)
    {
        _grid = grid;
        _options = options;
    }

    /// <summary>Index of the row of the headings in the grid; -1 when there is none.</summary>
    public int HeadingRow { get; private set; } = -1;

    /// <summary>The columns found.</summary>
    public IReadOnlyCollection<RecognisedColumn> Columns => _columns.Values;

    /// <summary>Headings of the columns that hold something and are not used.</summary>
    public IReadOnlyList<string> Ignored => HeadingRow < 0 ? [] :
        [.. Enumerable.Range(0, _width).Where(column => !_taken.ContainsKey(column) && _contents[column].Filled > 0 && Heading(column).Length > 0).Select(Heading)];

    /// <summary>Where each kind of cell is, from 0; -1 where the sheet has no such column.</summary>
    public int this[PatchColumn column] => _columns.TryGetValue(column, out RecognisedColumn? found) ? Grid.Column(found.Letters) : -1;

    /// <summary>Finds them; null when all that is needed was found without doubt, otherwise what is missing or the question.</summary>
    public TableProblem? Find()
    {
        HeadingRow = FindHeadings();
        GridRow[] rows = [.. _grid.Rows.Skip(HeadingRow + 1)];
        _width = _grid.Rows.Count == 0 ? 0 : _grid.Rows.Max(row => row.Cells.Length);
        _contents = [.. Enumerable.Range(0, _width).Select(column => new ColumnContent(rows, column))];
        if (TakeAsked() is { } wrong)
        {
            return wrong;
        }

        foreach (PatchColumn column in Decisive.Concat(Enum.GetValues<PatchColumn>().Except(Decisive)))
        {
            if (!_columns.ContainsKey(column) && Take(column) is { } question)
            {
                return question;
            }
        }

        return Missing();
    }

    private string Heading(int column) => HeadingRow < 0 ? "" : _grid.Rows[HeadingRow][column];

    /// <summary>The row among the first with the most heading words; two at least, and no address in it.</summary>
    private int FindHeadings()
    {
        int best = -1, bestScore = 2;
        for (int i = 0; i < Math.Min(RowsForHeadings, _grid.Rows.Count); i++)
        {
            string[] cells = _grid.Rows[i].Cells;
            int score = cells.Sum(cell => Math.Min(HeadingWords.Weight(cell), HeadingWords.Strong)) +
                (_options.Columns.Values.Count(name => cells.Contains(name, StringComparer.OrdinalIgnoreCase)) * HeadingWords.Strong);
            bool holdsAddress = cells.Any(cell => AddressText.TryParse(cell, out AddressText read) && read.Universe.Length > 0 && read.Address > 0);
            if (score > bestScore && cells.Count(cell => HeadingWords.Weight(cell) > 0 || _options.Columns.Values.Contains(cell, StringComparer.OrdinalIgnoreCase)) > 1 && !holdsAddress)
            {
                (best, bestScore) = (i, score);
            }
        }

        return best;
    }

    private TableProblem? TakeAsked()
    {
        foreach ((PatchColumn column, string name) in _options.Columns)
        {
            int place = Enumerable.Range(0, _width).FirstOrDefault(candidate => Heading(candidate).Equals(name, StringComparison.OrdinalIgnoreCase), -1);
            place = place >= 0 ? place : Grid.Column(name);
            if (place < 0 || place >= _width)
            {
                return new TableProblem("the sheet has no such column", HeadingLine, Word(column), "a heading or a letter up to " + Grid.Letters(Math.Max(_width - 1, 0)), Shown.Quoted(name),
                    "correct it after --columns");
            }

            if (!_taken.TryAdd(place, column))
            {
                return new TableProblem("one column is named for two things", HeadingLine, Grid.Letters(place), "one", Word(_taken[place]) + " and " + Word(column), "correct it after --columns");
            }

            _columns[column] = new RecognisedColumn(column, Grid.Letters(place), Heading(place), "as asked");
        }

        return null;
    }

    private int HeadingLine => HeadingRow < 0 ? 0 : _grid.Rows[HeadingRow].Line;

    private TableProblem? Take(PatchColumn column)
    {
        if (column == PatchColumn.Universe && _columns.ContainsKey(PatchColumn.Address) && HeadingRow < 0 && _contents[this[PatchColumn.Address]].Pairs >= 0.8)
        {
            return null; // without headings, and the address has its universe: any other number is something else
        }

        List<(int Place, double Score, int Heading)> candidates = [];
        for (int place = 0; place < _width; place++)
        {
            if (!_taken.ContainsKey(place) && Score(column, place) is var (score, heading) && score >= 1)
            {
                candidates.Add((place, score, heading));
            }
        }

        if (candidates.Count == 0)
        {
            return null;
        }

        candidates.Sort((a, b) => a.Score != b.Score ? b.Score.CompareTo(a.Score) : a.Place.CompareTo(b.Place));
        (int first, double best, int weight) = candidates[0];
        if (candidates.Count > 1 && best - candidates[1].Score < Clear && (Decisive.Contains(column) || weight == HeadingWords.Ours))
        {
            return Question(column, [.. candidates.Where(candidate => best - candidate.Score < Clear).Select(candidate => candidate.Place).Order()]);
        }

        _taken[first] = column;
        _columns[column] = new RecognisedColumn(column, Grid.Letters(first), Heading(first), weight > 0 ? "by its heading" : "by what it holds");
        return null;
    }

    private (double Score, int Heading) Score(PatchColumn column, int place)
    {
        int weight = HeadingWords.Weight(column, Heading(place));
        double fits = _contents[place].Fits(column);
        if (weight == HeadingWords.Ours)
        {
            return (weight, weight); // what is wrong in its cells is said cell by cell
        }

        if (weight > 0)
        {
            // A word with a better use elsewhere: a column called Fixture is the type where another is called Unit.
            bool elsewhere = weight == HeadingWords.Weak && HeadingWords.Weight(Heading(place)) > HeadingWords.Weak;
            return elsewhere ? (0, 0) : (weight + fits, weight);
        }

        // Without a heading of its own, a column is taken only where its cells speak for themselves.
        bool unnamed = Heading(place).Length == 0;
        return column switch
        {
            PatchColumn.Address when _contents[place].Pairs >= 0.8 && _contents[place].Filled > 2 => (fits, 0),
            PatchColumn.Address when unnamed && HeadingRow < 0 && _contents[place] is { Addresses: >= 0.9, Counting: false, Distinct: >= 0.2, Words: < 0.5 } => (1 + fits, 0),
            PatchColumn.Mode when _contents[place].Modes >= 0.8 => (fits, 0),
            PatchColumn.Universe when unnamed && HeadingRow < 0 && _contents[place] is { Universes: >= 0.9, Distinct: < 0.34 } && _contents[place].Modes == 0 && (_contents[place].Numbers > 0.9 || _contents[place].Words > 0.9) => (1 + fits, 0),
            PatchColumn.Type when unnamed && HeadingRow < 0 && _contents[place].Words >= 0.9 => (1 + fits, 0),
            PatchColumn.Unit when unnamed && HeadingRow < 0 && fits > 0 => (1 + fits, 0),
            _ => (0, 0),
        };
    }

    private TableProblem Question(PatchColumn column, int[] places)
    {
        string[] names = [.. places.Take(4).Select(place => Heading(place).Length > 0 ? $"{Grid.Letters(place)} {Shown.Quoted(Heading(place))}" : Grid.Letters(place))];
        string word = Word(column);
        return new TableProblem($"which column is the {word}", HeadingLine, "", "one column", string.Join(" and ", names),
            $"say which with --columns {string.Join(" or --columns ", places.Take(4).Select(place => $"{word}={Grid.Letters(place)}"))}");
    }

    private TableProblem? Missing()
    {
        string[] missing = [.. new[] { PatchColumn.Unit, PatchColumn.Type, PatchColumn.Address }.Where(column => !_columns.ContainsKey(column)).Select(Word)];
        if (missing.Length == 0)
        {
            return null;
        }

        int line = HeadingRow >= 0 ? HeadingLine : _grid.Rows.Count > 0 ? _grid.Rows[0].Line : 0;
        string[] found = HeadingRow >= 0 ? _grid.Rows[HeadingRow].Cells : _grid.Rows.Count > 0 ? _grid.Rows[0].Cells : [];
        return new TableProblem(missing.Length == 1 ? "a column is missing" : "columns are missing", line, string.Join(", ", missing),
            "headings such as unit,type,mode,universe,address", string.Join(", ", found.Take(8).Select(Shown.Cell)) + (found.Length > 8 ? " ..." : ""),
            $"name the columns so, or say which they are with --columns {string.Join(',', missing.Select((word, i) => word + "=" + Grid.Letters(i)))}");
    }

    private static string Word(PatchColumn column) => column == PatchColumn.SharesWith ? "sharesWith" : column.ToString().ToLowerInvariant();
}
