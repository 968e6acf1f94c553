using System.Globalization;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate;

/// <summary>Collects the rows of a trace and says what is wrong with the first bad one.</summary>
internal sealed class TraceRows(Timestamp start, string? wanted)
{
    private static readonly char[] Separators = ['\t', ';', ','];
    private readonly List<Timestamp> _times = [];
    private readonly List<double>[] _values = [[], [], []];
    private readonly SortedSet<string> _regions = new(StringComparer.Ordinal);
    private string[] _columns = [];
    private int[] _places = [];
    private int _time;
    private int _region = -1;
    private char _separator = ',';
    private bool? _isSeconds;

    public bool HasHeader { get; private set; }

    /// <summary>Most names of regions kept.</summary>
    public int MostRegions { get; init; } = 20;

    /// <summary>Whether the header names a column of regions.</summary>
    public bool HasRegions => _region >= 0;

    /// <summary>The names of the regions so far.</summary>
    public IReadOnlyCollection<string> Regions => _regions;

    /// <summary>What a comment said of the clock.</summary>
    public TraceClock Clock { get; set; }

    public InputProblem? SetHeader(string line, int number, string[] level, string[] colour)
    {
        HasHeader = true;
        _separator = Separators.FirstOrDefault(separator => line.Contains(separator, StringComparison.Ordinal), ',');
        string[] names = [.. Cells(line).Select(name => name.ToLowerInvariant())];
        _time = Array.IndexOf(names, "time");
        _region = Array.IndexOf(names, "region");
        _columns = level.All(names.Contains) ? level : colour;
        _places = [.. _columns.Select(name => Array.IndexOf(names, name))];
        return _time < 0 || _places.Contains(-1)
            ? Problem("the header does not name the columns of a trace", number, "", "time,level or time,r,g,b", Quoted(line), "name the columns in the first line")
            : null;
    }

    public InputProblem? Add(string line, int number)
    {
        string[] cells = Cells(line);
        int last = Math.Max(_time, _places.Max());
        if (cells.Length <= last)
        {
            return Problem("a row is too short", number, "", Count(last + 1) + " cells", Count(cells.Length), "check the row");
        }

        if (_region >= 0 && _region < cells.Length)
        {
            if (_regions.Count < MostRegions)
            {
                _regions.Add(cells[_region]);
            }

            if (wanted is not null && cells[_region] != wanted)
            {
                return null;
            }
        }

        if (_times.Count == TraceReader.MostReadings)
        {
            return Problem("the trace is too long", number, "", "at most " + Count(TraceReader.MostReadings) + " readings", "more", "cut it to the time of the capture");
        }

        if (!TryTime(cells[_time], out Timestamp time))
        {
            return Problem("a time cannot be read", number, "time", _isSeconds == true ? "seconds, like the rows before" : _isSeconds == false ? "ISO 8601, like the rows before" : "ISO 8601 or seconds", Quoted(cells[_time]), "write 2026-03-14T19:41:07.033Z or 12.033");
        }

        if (_times.Count > 0 && time <= _times[^1])
        {
            return wanted is null && _regions.Count > 1 ? Several(number)
                : Problem("the times do not rise", number, "time", "a time after " + _times[^1], Quoted(cells[_time]), "sort the rows and leave out repeated ones");
        }

        for (int c = 0; c < _places.Length; c++)
        {
            if (!TryNumber(cells[_places[c]], out double value))
            {
                return Problem("a reading is not a number", number, _columns[c], "a finite number", Quoted(cells[_places[c]]), "leave out rows without a reading");
            }

            _values[c].Add(value);
        }

        _times.Add(time);
        return null;
    }

    /// <summary>What is wrong with the trace as a whole.</summary>
    public InputProblem? Problem() =>
        !HasHeader ? Problem("the file is empty", 0, "", "time,level or time,r,g,b and rows below it", "nothing", "check that it is the right file")
        : wanted is not null && _times.Count == 0 && _regions.Count > 0 ? Problem("the trace has no such region", 0, "region", string.Join(", ", _regions.Select(Quoted)), Quoted(wanted), "name one of its regions")
        : wanted is null && _regions.Count > 1 ? Several(0)
        : _times.Count < 2 ? Problem("the trace has too few readings", 0, "", "at least 2", Count(_times.Count), "record 30 s or more")
        : null;

    public LightTrace Trace() => new([.. _times], [.. _values.Take(_places.Length).Select(values => values.ToArray())]) { Clock = Clock };

    private InputProblem Several(int number) =>
        Problem("the trace has several regions", number, "region", "one, or a name", string.Join(", ", _regions.Select(Quoted)), "name one of its regions (--region)");

    private string[] Cells(string line) => [.. line.Split(_separator).Select(cell => cell.Trim().Trim('"'))];

    private bool TryTime(string text, out Timestamp time)
    {
        time = default;
        if (_isSeconds != false && TryNumber(text, out double seconds) && Math.Abs(seconds) < 1e9)
        {
            _isSeconds = true;
            time = start + Duration.FromSeconds(seconds);
            return true;
        }

        if (_isSeconds == true || !DateTimeOffset.TryParse(
            text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out DateTimeOffset moment) ||
            moment.Year is < 1970 or > 2261)
        {
            return false;
        }

        _isSeconds = false;
        time = Timestamp.FromUnixNanoseconds((moment - DateTimeOffset.UnixEpoch).Ticks * 100);
        return true;
    }

    private bool TryNumber(string text, out double value) =>
        double.TryParse(_separator == ',' ? text : text.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);

    private static InputProblem Problem(string what, int line, string column, string expected, string found, string advice)
    {
        string where = line > 0 ? "line " + Count(line) : "";
        where += column.Length > 0 ? (where.Length > 0 ? ", " : "") + "column " + column : "";
        return new InputProblem(what, where, expected, found, advice);
    }

    private static string Count(int value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Quoted(string text) => "'" + LocateWords.Plain(text) + "'";
}
