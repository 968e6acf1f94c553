using System.Globalization;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>
/// What a CSV is, found from its first part: separator, decimal sign, where the rows start, which column is time and in what
/// unit, which are lines and where their threshold lies. Everything that the file does not say outright becomes a sentence.
/// </summary>
internal sealed class CsvLayout
{
    private const double LeastSwing = 0.5; // volts; less is noise on a line that stands still
    private const double Hysteresis = 0.1; // of the swing

    private static readonly string[] TimeWords = ["TIME", "ZEIT", "TEMPS", "TEMPO", "TIEMPO", "TIJD", "SECOND", "X-AXIS", "XAXIS"];
    private static readonly string[] CountWords = ["SAMPLE", "INDEX", "POINT", "NO", "N", "#", "NR"];
    private static readonly string[] ChannelWords = ["CHANNEL", "CH", "LINE", "SIGNAL", "KANAL"];

    private readonly List<byte[]> _lines = [];
    private const string Increment = "increment";
    private const decimal ShortestInterval = 1e-10m;

    private readonly List<string> _assumptions = [];
    private readonly HashSet<int> _counting = [];
    private readonly LineFileOptions _options;
    private int _firstRow;
    private bool _timeIsNamed;
    private string? _stated;

    private CsvLayout(LineFileOptions options) => _options = options;

    /// <summary>Between cells; 0 where lines have one.</summary>
    public byte Separator { get; private set; }

    /// <summary>Whether decimals follow a comma.</summary>
    public bool DecimalComma { get; private set; }

    /// <summary>Lines before the first row.</summary>
    public int LinesBefore => _firstRow;

    /// <summary>The column of time; -1 where rows follow each other at a rate.</summary>
    public int TimeColumn { get; private set; } = -1;

    /// <summary>Seconds of a unit of time.</summary>
    public decimal TimeUnit { get; private set; } = 1;

    /// <summary>The column that names the channel which changes, or -1.</summary>
    public int ChannelColumn { get; private set; } = -1;

    /// <summary>The channels; with a channel column all have the index of the level's column and the name found there.</summary>
    public List<CsvColumn> Columns { get; } = [];

    /// <summary>Rows per second where there is no time column, or where the file states it; 0 for not known.</summary>
    public long Rate { get; private set; }

    /// <summary>Seconds between rows at one pace, 0 where they come when something changes.</summary>
    public decimal Interval { get; private set; }

    /// <summary>Seconds that the last digit of a time stands for.</summary>
    public decimal Digit { get; private set; }

    /// <summary>What was assumed.</summary>
    public IReadOnlyList<string> Assumptions => _assumptions;

    /// <summary>Looks at the start of a text.</summary>
    /// <param name="head">Its first part.</param>
    /// <param name="options">What the person says.</param>
    /// <param name="name">Name to print.</param>
    /// <returns>Null where it is no recording of a line.</returns>
    /// <exception cref="InputException">It is one, but says too little about itself.</exception>
    public static CsvLayout? Find(ReadOnlySpan<byte> head, LineFileOptions options, string name)
    {
        CsvLayout layout = new(options);
        layout.SetLinesApart(head);
        layout.FindSeparator();
        List<int> values = layout.FindRows();
        if (values.Count == 0 || layout._lines.Count - layout._firstRow < 2)
        {
            layout.RefuseNearlyNumbers(name);
            return null;
        }

        string[] headings = layout.Headings();
        layout.FindPreamble(values, headings);
        layout.FindTime(values, headings);
        if (!layout.FindChannels(values, headings))
        {
            layout.RefuseNearlyNumbers(name);
            return null;
        }

        layout.FindPace(name);
        layout.FindThresholds(name);
        return layout;
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

        _firstRow = _lines.Count;
        while (_firstRow > 0)
        {
            byte[] line = _lines[_firstRow - 1];
            if (CsvText.IsRemark(line) || CsvText.Split(line, Separator, cells) != count || !AreValues(line, cells, values))
            {
                break;
            }

            _firstRow--;
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

    // A line of names, with a line of units under it perhaps: joined, "Time (us)".
    private string[] Headings()
    {
        Span<Range> cells = stackalloc Range[CsvText.MostCells];
        string[] headings = new string[CsvText.Split(_lines[_firstRow], Separator, cells)];
        Array.Fill(headings, "");
        int lines = 0;
        for (int at = _firstRow - 1; at >= 0 && lines < 2; at--, lines++)
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

    // Two lines of an oscilloscope: names with 'Increment' among them, and under it the seconds from row to row.
    private void FindPreamble(List<int> values, string[] headings)
    {
        for (int at = 0; at + 1 < _firstRow; at++)
        {
            string[] names = Cells(_lines[at]);
            string[] under = Cells(_lines[at + 1]);
            int place = Array.FindIndex(names, name => name.Equals(Increment, StringComparison.OrdinalIgnoreCase));
            if (place < 0 || place >= under.Length
                || !decimal.TryParse(under[place], NumberStyles.Float, CultureInfo.InvariantCulture, out decimal interval)
                || interval is < ShortestInterval or > 1)
            {
                continue;
            }

            Interval = interval;
            _stated = CsvText.Text(_lines[at]);
            for (int column = 0; column < Math.Min(headings.Length, names.Length); column++)
            {
                headings[column] = names[column];
                if (under[Math.Min(column, under.Length - 1)].Equals("sequence", StringComparison.OrdinalIgnoreCase) && values.Remove(column))
                {
                    _ = _counting.Add(column);
                    _assumptions.Add($"The column '{names[column]}' numbers the rows and is not used.");
                }
            }

            return;
        }
    }

    private string[] Cells(byte[] line)
    {
        Range[] cells = new Range[CsvText.MostCells];
        int count = CsvText.Split(line, Separator, cells);
        return [.. cells.Take(count).Select(cell => CsvText.Text(line.AsSpan(cell)).Trim())];
    }

    // A text that is numbers but for a cell is a recording that somebody spoilt, and worth the place.
    private void RefuseNearlyNumbers(string name)
    {
        if (Separator == 0 || _lines.Count == 0)
        {
            return;
        }

        int bad = -1;
        int good = 0;
        for (int at = 0; at < _lines.Count; at++)
        {
            if (CsvText.IsRemark(_lines[at]))
            {
                continue;
            }

            bool isGood = Array.TrueForAll(Cells(_lines[at]), cell => IsValue(System.Text.Encoding.UTF8.GetBytes(cell)));
            good += isGood ? 1 : 0;
            bad = !isGood && bad < 0 && IsValue(System.Text.Encoding.UTF8.GetBytes(Cells(_lines[at])[0])) ? at : bad;
        }

        if (bad >= 0 && (2 * good > _lines.Count || _lines.Count == 1))
        {
            string[] cells = Cells(_lines[bad]);
            int column = Array.FindIndex(cells, cell => !IsValue(System.Text.Encoding.UTF8.GetBytes(cell)));
            throw new InputException(name, new InputProblem(
                "the CSV cannot be read",
                string.Create(CultureInfo.InvariantCulture, $"line {bad + 1}, column {column + 1}"),
                "a number",
                cells[column].Length == 0 ? "nothing" : $"'{cells[column]}'",
                "correct the cell or export the recording again"));
        }
    }

    private void FindTime(List<int> values, string[] headings)
    {
        foreach (int column in values.Where(column => CountWords.Contains(headings[column].Trim().ToUpperInvariant(), StringComparer.Ordinal)).ToArray())
        {
            _assumptions.Add($"The column '{headings[column]}' numbers the rows and is not used.");
            _ = _counting.Add(column);
            _ = values.Remove(column);
        }

        int time = values.FindIndex(column => Array.Exists(TimeWords, word => headings[column].Contains(word, StringComparison.OrdinalIgnoreCase)) || headings[column].Trim() is "t" or "T" or "s" or "[s]");
        _timeIsNamed = time >= 0;
        if (time < 0 && values.Count > 1 && Rises(values[0]))
        {
            time = 0;
            _assumptions.Add("The first column of numbers is taken as time, because it only rises.");
        }

        if (time < 0)
        {
            return;
        }

        TimeColumn = values[time];
        values.RemoveAt(time);
        if (CsvText.UnitOf(headings[TimeColumn]) is decimal unit)
        {
            TimeUnit = unit;
        }
        else
        {
            _assumptions.Add("The file does not name the unit of its times; seconds are assumed.");
        }
    }

    private bool Rises(int column)
    {
        decimal before = decimal.MinValue;
        HashSet<decimal> seen = [];
        foreach (decimal number in Numbers(column))
        {
            if (number < before)
            {
                return false;
            }

            before = number;
            _ = seen.Add(number);
        }

        return seen.Count > 2;
    }

    private List<decimal> Numbers(int column)
    {
        Span<Range> cells = stackalloc Range[CsvText.MostCells];
        List<decimal> numbers = [];
        for (int at = _firstRow; at < _lines.Count; at++)
        {
            _ = CsvText.Split(_lines[at], Separator, cells);
            if (CsvText.TryNumber(_lines[at].AsSpan(cells[column]), DecimalComma, out decimal number))
            {
                numbers.Add(number);
            }
        }

        return numbers;
    }

    private bool FindChannels(List<int> values, string[] headings)
    {
        List<int> texts = [.. Enumerable.Range(0, headings.Length).Except(values).Where(column => column != TimeColumn && !_counting.Contains(column))];
        int named = Array.FindIndex(headings, heading => ChannelWords.Contains(heading.Trim().ToUpperInvariant(), StringComparer.Ordinal));
        if (TimeColumn >= 0 && headings.Length == 3 && (named >= 0 || (texts.Count == 1 && values.Count == 1)))
        {
            ChannelColumn = named >= 0 ? named : texts[0];
            int level = Enumerable.Range(0, 3).First(column => column != TimeColumn && column != ChannelColumn);
            foreach (string channel in ChannelNames().Take(LineSource.MostChannels))
            {
                Columns.Add(new CsvColumn(level, channel, null, 0));
            }

            return true;
        }

        // A table with words in it is a recording only where it says that it has times: patch sheets and charts do not.
        if (values.Count == 0 || (texts.Count > 0 && !_timeIsNamed && !texts.TrueForAll(IsEmpty)))
        {
            return false;
        }

        foreach (int column in values.Take(LineSource.MostChannels))
        {
            string heading = headings[column].Length > 0 ? headings[column] : "column " + (column + 1).ToString(CultureInfo.InvariantCulture);
            Columns.Add(new CsvColumn(column, heading, null, 0));
        }

        if (values.Count > LineSource.MostChannels)
        {
            _assumptions.Add($"The first {LineSource.MostChannels} lines are read; {values.Count - LineSource.MostChannels} columns after them are left out.");
        }

        return true;
    }

    private bool IsEmpty(int column)
    {
        Span<Range> cells = stackalloc Range[CsvText.MostCells];
        _ = CsvText.Split(_lines[^1], Separator, cells);
        return CsvText.Bare(_lines[^1].AsSpan(cells[column])).IsEmpty;
    }

    private List<string> ChannelNames()
    {
        List<string> names = [];
        Range[] cells = new Range[CsvText.MostCells];
        foreach (byte[] line in _lines.Skip(_firstRow))
        {
            _ = CsvText.Split(line, Separator, cells);
            string name = CsvText.Text(line.AsSpan(cells[ChannelColumn]));
            if (!names.Contains(name))
            {
                names.Add(name);
            }
        }

        return names;
    }

    private void FindPace(string name)
    {
        string? stated = _stated;
        foreach (string line in _lines.Take(_firstRow).Select(line => CsvText.Text(line)))
        {
            bool isInterval = line.Contains("interval", StringComparison.OrdinalIgnoreCase) || line.Contains("increment", StringComparison.OrdinalIgnoreCase) || line.Contains("xincr", StringComparison.OrdinalIgnoreCase);
            if ((isInterval || line.Contains("rate", StringComparison.OrdinalIgnoreCase)) && Interval == 0 && StatedPace(line, isInterval) is decimal interval and > 0)
            {
                Interval = interval;
                stated = line;
            }
        }

        if (TimeColumn < 0)
        {
            if (stated is null)
            {
                Rate = _options.Rate ?? throw new InputException(name, new InputProblem(
                    "the CSV has no column of times and states no rate", "", "a column named time, or a sampling rate before the rows", "neither", "give --rate"));
                Interval = 1m / Rate;
                _assumptions.Add($"The CSV has no times; its rows are taken as samples at {Rates.Text(Rate)} (--rate).");
            }
            else
            {
                Rate = (long)Math.Min(Rates.Highest, Math.Round(1 / Interval));
                _assumptions.Add($"The CSV has no times; its rows are taken as samples at {Rates.Text(Rate)}, as a line before them states.");
            }

            return;
        }

        List<decimal> times = Numbers(TimeColumn);
        Digit = times.Take(1_000).Concat(times.TakeLast(1_000)).Select(LastDigit).DefaultIfEmpty(0).Max() * TimeUnit;
        decimal mean = times.Count > 1 ? (times[^1] - times[0]) * TimeUnit / (times.Count - 1) : 0;
        int even = times.Zip(times.Skip(1)).Count(pair => Math.Abs(((pair.Second - pair.First) * TimeUnit) - mean) <= (mean / 50) + (mean > 4 * Digit ? Digit : 0));
        bool isEven = times.Count > 2 && mean > 0 && even >= 0.98 * (times.Count - 1);
        if (stated is not null)
        {
            _assumptions.Add($"The rows are samples {Nanoseconds(Interval)} apart, as a line before them states.");
        }
        else if (isEven)
        {
            Interval = mean;
            _assumptions.Add($"The rows are samples: they come every {Nanoseconds(mean)}, which is taken as the sampling period.");
        }
        else
        {
            _assumptions.Add("The rows do not come at one pace: each is taken as a change that lasts until the next.");
        }
    }

    private static string Nanoseconds(decimal seconds) => (seconds * 1e9m).ToString("0.###", CultureInfo.InvariantCulture) + " ns";

    // The last digit written, in units of the number: as small as it can be told from a parsed number.
    private static decimal LastDigit(decimal number)
    {
        decimal digit = 1;
        for (int scale = number.Scale; scale > 0; scale--)
        {
            digit /= 10;
        }

        return digit;
    }

    private decimal? StatedPace(string line, bool isInterval)
    {
        if (!isInterval && Rates.TryFind(line, out long rate))
        {
            return 1m / rate;
        }

        foreach (string cell in line.Split([Separator == 0 ? ':' : (char)Separator, ':', '='], StringSplitOptions.TrimEntries).Skip(1))
        {
            if (CsvText.TryNumber(System.Text.Encoding.UTF8.GetBytes(cell), DecimalComma, out decimal number) && number > 0)
            {
                decimal interval = isInterval ? number * (CsvText.UnitOf(line.Split(cell)[0]) ?? 1) : 1 / number;
                return interval is >= 1e-10m and <= 1 ? interval : null;
            }
        }

        return null;
    }

    private void FindThresholds(string name)
    {
        if (ChannelColumn >= 0)
        {
            return;
        }

        for (int i = 0; i < Columns.Count; i++)
        {
            CsvColumn column = Columns[i];
            List<decimal> numbers = Numbers(column.Index);
            if (numbers.TrueForAll(number => number is 0 or 1))
            {
                continue;
            }

            double lowest = (double)numbers.Min();
            double highest = (double)numbers.Max();
            double threshold = _options.Threshold ?? ((lowest + highest) / 2);
            double swing = highest - lowest;
            if (_options.Threshold is null && swing < LeastSwing)
            {
                throw new InputException(name, new InputProblem(
                    $"the voltage of column {column.Index + 1} hardly changes in the first {numbers.Count} rows",
                    "",
                    "a line that goes between two levels",
                    string.Create(CultureInfo.InvariantCulture, $"{lowest:0.###} V to {highest:0.###} V"),
                    "give --threshold"));
            }

            Columns[i] = column with { LowBelow = threshold - (Hysteresis * swing), HighFrom = threshold + (Hysteresis * swing) };
            _assumptions.Add(string.Create(
                CultureInfo.InvariantCulture,
                $"Column {column.Index + 1} holds voltages: it turns high above {threshold + (Hysteresis * swing):0.###} V and low below {threshold - (Hysteresis * swing):0.###} V, around {(_options.Threshold is null ? "the middle of what its first rows show" : "--threshold")}."));
        }
    }
}
