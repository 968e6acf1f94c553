using System.Globalization;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Reads a brightness trace from CSV: <c>time,level</c> or <c>time,r,g,b</c>, optional <c>region</c>; the time as
/// ISO 8601 (UTC where it names no zone) or as seconds from the capture's first record. Separator comma, semicolon or
/// tab; with the last two a decimal comma is understood. Lines that begin with # are comments; one of them may say how far
/// the trace's clock may be off (<see cref="TraceClock"/>).
/// </summary>
public static class TraceReader
{
    /// <summary>Most readings taken.</summary>
    public const int MostReadings = 2_000_000;

    private static readonly string[] LevelColumns = ["level"];
    private static readonly string[] ColourColumns = ["r", "g", "b"];

    /// <summary>Reads a trace and checks it against the capture.</summary>
    /// <param name="text">The CSV text.</param>
    /// <param name="start">The capture's first record.</param>
    /// <param name="end">Its last record.</param>
    /// <param name="region">Which region to take where the file has several; null = the only one.</param>
    /// <returns>The trace, or one problem with its line and column.</returns>
    public static TraceReading Read(TextReader text, Timestamp start, Timestamp end, string? region = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        TraceRows rows = new(start, region);
        string? line;
        int number = 0;
        while ((line = text.ReadLine()) is not null)
        {
            number++;
            if (line.Contains('\0', StringComparison.Ordinal))
            {
                return Refused("this is not a text file", "a trace in CSV", string.Create(CultureInfo.InvariantCulture, $"a zero byte in line {number}"), "check that it is the trace and not another file");
            }

            if (line.AsSpan().Trim().IsEmpty || line.TrimStart('\uFEFF').AsSpan().TrimStart().StartsWith("#"))
            {
                rows.Clock = TraceClock.Parse(line) ?? rows.Clock;
                continue;
            }

            InputProblem? problem = rows.HasHeader ? rows.Add(line, number) : rows.SetHeader(line.TrimStart('\uFEFF'), number, LevelColumns, ColourColumns);
            if (problem is not null)
            {
                return new TraceReading(null, problem);
            }
        }

        return rows.Problem() is { } wrong ? new TraceReading(null, wrong)
            : region is not null && !rows.HasRegions ? Refused("this trace has no regions", "a column 'region'", "none", $"leave region '{region}' out, or use the trace of the video that has it")
            : Checked(rows.Trace(), start, end);
    }

    /// <summary>The names of the regions in a trace, sorted; none where it has no such column or cannot be read.</summary>
    /// <param name="text">The CSV text.</param>
    public static IReadOnlyList<string> Regions(TextReader text)
    {
        ArgumentNullException.ThrowIfNull(text);
        TraceRows rows = new(Timestamp.FromUnixNanoseconds(0), wanted: "\0") { MostRegions = int.MaxValue };
        while (text.ReadLine() is string line)
        {
            if (line.AsSpan().Trim().IsEmpty || line.TrimStart('\uFEFF').AsSpan().TrimStart().StartsWith("#"))
            {
                continue;
            }

            InputProblem? problem = rows.HasHeader ? rows.Add(line, 0) : rows.SetHeader(line.TrimStart('\uFEFF'), 0, LevelColumns, ColourColumns);
            if (problem is not null || !rows.HasRegions)
            {
                break;
            }
        }

        return [.. rows.Regions];
    }

    private static TraceReading Checked(LightTrace trace, Timestamp start, Timestamp end)
    {
        Timestamp from = trace.First > start ? trace.First : start;
        Timestamp to = trace.Last < end ? trace.Last : end;
        double shared = trace.Clock.IsUnknown
            ? Math.Min((trace.Last - trace.First).TotalSeconds, (end - start).TotalSeconds)
            : Math.Max(0, (to - from).TotalSeconds + trace.Clock.ErrorSeconds);
        double needed = LocateInference.FewestSamples / (double)SlotHistory.RatePerSecond;
        if (shared >= needed)
        {
            return Constant(trace) ? Refused("the light never changes in this trace", "at least one change", "one value throughout",
                "check that the light is in the picture and that it did something") : new TraceReading(trace, null);
        }

        string spans = string.Create(CultureInfo.InvariantCulture, $"{trace.First} to {trace.Last}");
        string capture = string.Create(CultureInfo.InvariantCulture, $"{start} to {end}");
        double apart = Math.Max((trace.First - end).TotalSeconds, (start - trace.Last).TotalSeconds);
        if (apart > 12 * 3600)
        {
            return Refused("the trace is from another day than the capture", capture, spans, "use the trace and the capture of one evening, or give the time in seconds from the capture's first record");
        }

        return shared > 0
            ? Refused("trace and capture share too little time", string.Create(CultureInfo.InvariantCulture, $"at least {needed:0} s"), string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(shared * 10) / 10:0.0} s"), "record both at once, 30 s or more")
            : Refused("trace and capture do not overlap in time", capture, spans, "check both clocks, or give the time in seconds from the capture's first record");
    }

    private static bool Constant(LightTrace trace) =>
        Enumerable.Range(0, trace.ChannelCount).All(channel => trace.Channel(channel).All(value => value == trace.Channel(channel)[0]));

    private static TraceReading Refused(string what, string expected, string found, string advice) =>
        new(null, new InputProblem(what, "", expected, found, advice));
}
