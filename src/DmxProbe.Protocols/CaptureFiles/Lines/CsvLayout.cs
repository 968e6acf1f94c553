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

    private readonly CsvHead _head;
    private readonly List<string> _assumptions = [];
    private readonly HashSet<int> _counting = [];
    private readonly LineFileOptions _options;
    private CsvPace _pace;
    private bool _timeIsNamed;

    private CsvLayout(CsvHead head, LineFileOptions options)
    {
        _head = head;
        _options = options;
    }

    /// <summary>Between cells; 0 where lines have one.</summary>
    public byte Separator => _head.Separator;

    /// <summary>Whether decimals follow a comma.</summary>
    public bool DecimalComma => _head.DecimalComma;

    /// <summary>Lines before the first row.</summary>
    public int LinesBefore => _head.FirstRow;

    /// <summary>The column of time; -1 where rows follow each other at a rate.</summary>
    public int TimeColumn { get; private set; } = -1;

    /// <summary>Seconds of a unit of time.</summary>
    public decimal TimeUnit { get; private set; } = 1;

    /// <summary>The column that names the channel which changes, or -1.</summary>
    public int ChannelColumn { get; private set; } = -1;

    /// <summary>The channels; with a channel column all have the index of the level's column and the name found there.</summary>
    public List<CsvColumn> Columns { get; } = [];

    /// <summary>Rows per second where there is no time column, or where the file states it; 0 for not known.</summary>
    public long Rate => _pace.Rate;

    /// <summary>Seconds between rows at one pace, 0 where they come when something changes.</summary>
    public decimal Interval => _pace.Interval;

    /// <summary>Seconds that the last digit of a time stands for.</summary>
    public decimal Digit => _pace.Digit;

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
        CsvHead rows = new(head);
        CsvLayout layout = new(rows, options);
        if (rows.Values.Count == 0 || rows.Lines.Count - rows.FirstRow < 2)
        {
            rows.RefuseNearlyNumbers(name);
            return null;
        }

        string[] headings = rows.Headings();
        RefuseLight(headings, rows.FirstRow, name);
        CsvPreamble? preamble = CsvPreamble.Find(rows);
        layout.TakePreamble(preamble, headings);
        layout.FindTime(rows.Values, headings);
        if (!layout.FindChannels(rows.Values, headings))
        {
            rows.RefuseNearlyNumbers(name);
            return null;
        }

        (int, decimal)? time = layout.TimeColumn < 0 ? null : (layout.TimeColumn, layout.TimeUnit);
        layout._pace = CsvPace.Find(rows, preamble, time, options.Rate, name, layout._assumptions);
        layout.FindThresholds(name);
        return layout;
    }

    // A phone's picture of a light 30 times a second, read as a line, would be a line that is no DMX.
    private static void RefuseLight(string[] headings, int line, string name)
    {
        string[] names = [.. headings.Select(heading => heading.Trim().ToUpperInvariant())];
        if (names.Contains("TIME") && names.Contains("R") && names.Contains("G") && names.Contains("B"))
        {
            throw new InputException(name, new InputProblem(
                "this is the trace of a light",
                string.Create(CultureInfo.InvariantCulture, $"line {line}"),
                "a capture, or a recording of a line",
                $"'{string.Join(',', headings.Select(heading => heading.Trim()))}'",
                "name the capture here and give the trace after --trace"));
        }
    }

    private void TakePreamble(CsvPreamble? preamble, string[] headings)
    {
        for (int column = 0; column < Math.Min(headings.Length, preamble?.Names.Length ?? 0); column++)
        {
            headings[column] = preamble!.Names[column];
            if (preamble.Counts(column))
            {
                SetAside(column, headings);
            }
        }
    }

    private void SetAside(int column, string[] headings)
    {
        if (_head.Values.Remove(column))
        {
            _ = _counting.Add(column);
            _assumptions.Add($"The column '{headings[column]}' numbers the rows and is not used.");
        }
    }

    private void FindTime(List<int> values, string[] headings)
    {
        foreach (int column in values.Where(column => CountWords.Contains(headings[column].Trim().ToUpperInvariant(), StringComparer.Ordinal)).ToArray())
        {
            SetAside(column, headings);
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
        foreach (decimal number in _head.Numbers(column))
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
        _ = CsvText.Split(_head.Lines[^1], Separator, cells);
        return CsvText.Bare(_head.Lines[^1].AsSpan(cells[column])).IsEmpty;
    }

    private List<string> ChannelNames()
    {
        List<string> names = [];
        Range[] cells = new Range[CsvText.MostCells];
        foreach (byte[] line in _head.Rows)
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

    private void FindThresholds(string name)
    {
        if (ChannelColumn >= 0)
        {
            return;
        }

        for (int i = 0; i < Columns.Count; i++)
        {
            CsvColumn column = Columns[i];
            List<decimal> numbers = _head.Numbers(column.Index);
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
