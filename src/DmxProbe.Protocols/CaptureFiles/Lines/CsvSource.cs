using System.Text;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>Reads a CSV of samples or of changes, row by row; a level lasts until the next row.</summary>
internal sealed class CsvSource : LineSource
{
    /// <summary>Octets at the start from which the layout is found.</summary>
    public const int Head = 256 * 1024;

    // Fine enough for any time that is written, and a quarter second of it still fits 32 bit.
    private const long TicksOfTimes = 10_000_000_000;
    private const int LongestLine = 64 * 1024;

    private readonly LineDamage _damage;
    private readonly CsvLayout _layout;
    private readonly Dictionary<string, int> _channels = new(StringComparer.Ordinal);
    private long _line;
    private long _row;
    private long _now;
    private long _closeAt;
    private decimal? _firstTime;
    private bool _saidMore;

    /// <summary>Reads rows.</summary>
    /// <param name="window">Standing at the first line.</param>
    /// <param name="layout">What the file is.</param>
    /// <param name="unpacked">Whether it comes out of a gzip file.</param>
    /// <param name="name">Name to print.</param>
    public CsvSource(ByteWindow window, CsvLayout layout, bool unpacked, string name)
        : base(window, name, layout.Columns.Count, layout.Rate > 0 ? layout.Rate : TicksOfTimes)
    {
        _layout = layout;
        _damage = new LineDamage(unpacked, TicksPerSecond);
        for (int i = 0; i < layout.Columns.Count; i++)
        {
            _ = _channels.TryAdd(layout.Columns[i].Name, i);
        }

        foreach (string sentence in layout.Assumptions)
        {
            Assume(sentence);
        }
    }

    protected override bool FillSlice()
    {
        while (true)
        {
            int length = Window.Peek(Window.Available).IndexOf((byte)'\n');
            bool isCut = false;
            if (length < 0)
            {
                if (Window.Available < LongestLine && Window.Has(Window.Available + 1))
                {
                    continue;
                }

                if (Window.Available == 0 || Window.Failure is not null)
                {
                    Problem = Window.Failure is null ? null : _damage.Unreadable(Window, _now);
                    break;
                }

                // The last line may lack its end; a whole row it can only be where a digit more would change nothing.
                length = Window.Available;
                isCut = true;
            }

            ReadOnlySpan<byte> line = Window.Peek(length);
            if (isCut && _layout.TimeColumn < 0 && Separatorless(line))
            {
                isCut = false;
            }

            bool? went = isCut && _line >= _layout.LinesBefore && !LooksWhole(line) ? Cut(line) : TakeLine(line);
            if (went is null)
            {
                Slice.Close(_closeAt, last: false);
                return true;
            }

            if (went == false)
            {
                break;
            }

            Window.Skip(isCut ? length : Math.Min(length + 1, Window.Available));
            _line++;
        }

        long end = _now;
        if (_layout.Interval > 0 && _row > 0 && Problem is null)
        {
            end += _layout.Rate > 0 ? 1 : (long)Math.Round(_layout.Interval * TicksPerSecond);
        }

        Slice.Close(Math.Max(end, Slice.Start), last: true);
        Window.Close();
        return false;
    }

    protected override IEnumerable<CaptureInterface> Describe()
    {
        Duration resolution;
        if (_layout.Interval > 0)
        {
            resolution = DurationOf((double)(Math.Max(_layout.Interval, _layout.Digit) * TicksPerSecond));
        }
        else
        {
            (double ticks, string? sentence) = new SamplingGrid(Slice, TicksPerSecond).Find(0);
            if (sentence is not null)
            {
                Assume(sentence);
            }

            resolution = DurationOf(Math.Max(ticks, (double)(_layout.Digit * TicksPerSecond)));
        }

        return _layout.Columns.Select((column, i) => Interface(i, column.Name, _layout.Interval > 0 ? "CSV of samples" : "CSV of changes", resolution));
    }

    private static bool Separatorless(ReadOnlySpan<byte> line) => CsvText.Level(line) is not null;

    // "0.5,1" is whole as far as a level of one letter can be; "0.5,1.2" may have been "0.5,1.25".
    private bool LooksWhole(ReadOnlySpan<byte> line)
    {
        Span<Range> cells = stackalloc Range[CsvText.MostCells];
        int count = CsvText.Split(line, _layout.Separator, cells);
        int last = _layout.Columns[^1].Index;
        return count == last + 1 && _layout.TimeColumn != last && _layout.ChannelColumn != last
            && _layout.Columns[^1].LowBelow is null && CsvText.Level(line[cells[last]]) is not null;
    }

    private bool Cut(ReadOnlySpan<byte> line)
    {
        Problem = _damage.At("the CSV ends inside a row", Place(), "a line end after it", Shown(line), _now);
        return false;
    }

    private string Place() => "line " + CaptureDamage.Number(_line + 1);

    private static string Shown(ReadOnlySpan<byte> line) =>
        line.IsEmpty ? "an empty line" : Encoding.UTF8.GetString(line[..Utf8Text.CutLength(line, 60)]).TrimEnd('\r');

    // True to go on, false where reading ends, null where the slice must be closed first.
    private bool? TakeLine(ReadOnlySpan<byte> line)
    {
        if (_line < _layout.LinesBefore || CsvText.IsRemark(line) || CsvText.Bare(line).IsEmpty)
        {
            return true;
        }

        Span<Range> cells = stackalloc Range[CsvText.MostCells];
        int count = CsvText.Split(line, _layout.Separator, cells);
        if (!TryTime(line, cells[..count], out long tick, out string expected))
        {
            Problem = _damage.At("the CSV cannot be read further", Place(), expected, Shown(line), _now);
            return false;
        }

        if (tick > _now || _row == 0)
        {
            if (tick - Slice.Start > SliceTicks || (Slice.IsFull() && _now > Slice.Start))
            {
                _closeAt = _now > Slice.Start ? _now : Math.Min(tick - 1, Slice.Start + EdgeSlice.LongestIdle);
                if (_closeAt > Slice.Start)
                {
                    _now = _closeAt;
                    return null;
                }
            }

            _now = tick;
        }

        if (!SetLevels(line, cells[..count]))
        {
            Problem = _damage.At("the CSV cannot be read further", Place(), "a value in each column of a line", Shown(line), _now);
            return false;
        }

        _row++;
        return true;
    }

    private bool TryTime(ReadOnlySpan<byte> line, ReadOnlySpan<Range> cells, out long tick, out string expected)
    {
        tick = _row;
        expected = "";
        if (_layout.TimeColumn < 0)
        {
            expected = "a recording of at most 7 days";
            if (_layout.Rate == 0)
            {
                return false;
            }

            return tick <= LastTick;
        }

        expected = "a time";
        if (_layout.TimeColumn >= cells.Length || !CsvText.TryNumber(line[cells[_layout.TimeColumn]], _layout.DecimalComma, out decimal time) || Math.Abs(time) > 1e15m)
        {
            return false;
        }

        time *= _layout.TimeUnit;
        if (_firstTime is null)
        {
            _firstTime = time;
            if (time != 0)
            {
                Assume("Times are counted from the first row, which the file gives as " + time.ToString("0.############", System.Globalization.CultureInfo.InvariantCulture) + " s.");
            }
        }

        decimal sinceFirst = time - _firstTime.Value;
        expected = sinceFirst < 0 ? "a time not before the one before it" : "a time within 7 days";
        if (sinceFirst < 0 || sinceFirst > LongestSeconds)
        {
            return false;
        }

        tick = (long)Math.Round(sinceFirst * TicksPerSecond);
        expected = "a time not before the one before it";
        return tick >= _now;
    }

    private bool SetLevels(ReadOnlySpan<byte> line, ReadOnlySpan<Range> cells)
    {
        if (_layout.ChannelColumn >= 0)
        {
            int at = _layout.Columns[0].Index;
            if (_layout.ChannelColumn >= cells.Length || at >= cells.Length || CsvText.Level(line[cells[at]]) is not LineLevel changed)
            {
                return false;
            }

            string channel = CsvText.Text(line[cells[_layout.ChannelColumn]]);
            if (_channels.TryGetValue(channel, out int number))
            {
                Slice.Set(number, changed, _now);
            }
            else if (!_saidMore)
            {
                _saidMore = true;
                Assume("Channels that first appear late in the file are left out.");
            }

            return true;
        }

        for (int i = 0; i < _layout.Columns.Count; i++)
        {
            CsvColumn column = _layout.Columns[i];
            if (column.Index >= cells.Length)
            {
                return false;
            }

            ReadOnlySpan<byte> cell = line[cells[column.Index]];
            LineLevel? level = column.LowBelow is null ? CsvText.Level(cell) : null;
            if (level is null)
            {
                if (!CsvText.TryNumber(cell, _layout.DecimalComma, out decimal volts))
                {
                    return false;
                }

                // Between the two thresholds a line stays what it was; at the start the middle decides.
                double low = column.LowBelow ?? 0.5;
                double high = column.LowBelow is null ? 0.5 : column.HighFrom;
                LineLevel before = Slice.Level(i);
                level = (double)volts >= high ? LineLevel.High
                    : (double)volts < low ? LineLevel.Low
                    : before != LineLevel.Unknown ? before
                    : (double)volts >= (low + high) / 2 ? LineLevel.High : LineLevel.Low;
            }

            Slice.Set(i, level.Value, _now);
        }

        return true;
    }
}
