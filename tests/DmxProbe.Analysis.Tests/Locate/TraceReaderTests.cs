using DmxProbe.Analysis.Locate;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Locate;

public class TraceReaderTests
{
    private static readonly Timestamp Start = Timestamp.FromUnixNanoseconds(1_773_517_267_000_000_000); // 2026-03-14T19:41:07Z
    private static readonly Timestamp End = Start + Duration.FromSeconds(60);

    [Fact]
    public void Seconds_count_from_the_captures_first_record()
    {
        TraceReading reading = Read("time,level\n" + Rows(0, 300, t => t % 7));
        Assert.Null(reading.Problem);
        Assert.Equal(300, reading.Trace!.Count);
        Assert.Equal(Start, reading.Trace.First);
        Assert.Equal(1, reading.Trace.ChannelCount);
    }

    [Fact]
    public void Iso_times_with_a_zone_and_a_decimal_comma_are_understood()
    {
        string text = "time;r;g;b;region\n" + string.Join('\n', Enumerable.Range(0, 200).Select(t =>
            $"2026-03-14T20:41:{7 + (t / 20):00}.{t % 20 * 50:000}+01:00;0,5;{t % 3};1;spot"));
        TraceReading reading = Read(text);
        Assert.Null(reading.Problem);
        Assert.Equal(Start, reading.Trace!.First);
        Assert.Equal(3, reading.Trace.ChannelCount);
        Assert.Equal(0.5, reading.Trace.Channel(0)[0]);
    }

    [Theory]
    [InlineData("", "the file is empty: expected time,level or time,r,g,b and rows below it, found nothing; check that it is the right file")]
    [InlineData("when,level\n1,2\n", "the header does not name the columns of a trace at line 1: expected time,level or time,r,g,b, found 'when,level'; name the columns in the first line")]
    [InlineData("# a comment\ntime,level\n0,1\n0.1,NaN\n", "a reading is not a number at line 4, column level: expected a finite number, found 'NaN'; leave out rows without a reading")]
    [InlineData("time,r,g,b\n0,1,2,x\n", "a reading is not a number at line 2, column b: expected a finite number, found 'x'; leave out rows without a reading")]
    [InlineData("time,level\n0,1\nnoon,2\n", "a time cannot be read at line 3, column time: expected seconds, like the rows before, found 'noon'; write 2026-03-14T19:41:07.033Z or 12.033")]
    [InlineData("time,level\n0.2,1\n0.1,2\n", "the times do not rise at line 3, column time: expected a time after 2026-03-14T19:41:07.200000000Z, found '0.1'; sort the rows and leave out repeated ones")]
    [InlineData("time,level\n0.2\n", "a row is too short at line 2: expected 2 cells, found 1; check the row")]
    [InlineData("time,level\n0.2,1\n", "the trace has too few readings: expected at least 2, found 1; record 30 s or more")]
    [InlineData("time,level\n0.2,\u001b[2J\n", "a reading is not a number at line 2, column level: expected a finite number, found '\\u001B[2J'; leave out rows without a reading")]
    public void A_bad_trace_is_refused_with_line_and_column(string text, string expected) =>
        Assert.Equal(expected, Read(text).Problem!.ToString());

    [Fact]
    public void A_constant_trace_is_refused() =>
        Assert.StartsWith("the light never changes in this trace", Read("time,level\n" + Rows(0, 300, _ => 5)).Problem!.ToString(), StringComparison.Ordinal);

    [Theory]
    [InlineData(70, "trace and capture do not overlap in time")]
    [InlineData(57, "trace and capture share too little time: expected at least 5 s, found 3.0 s")]
    [InlineData(86_400, "the trace is from another day than the capture")]
    [InlineData(-86_400, "the trace is from another day than the capture")]
    public void A_trace_of_another_time_is_refused(int from, string expected) =>
        Assert.StartsWith(expected, Read("time,level\n" + Rows(from, 300, t => t % 5)).Problem!.ToString(), StringComparison.Ordinal);

    [Fact]
    public void A_shared_time_just_too_short_is_not_rounded_up_to_what_is_expected() => Assert.StartsWith(
        "trace and capture share too little time: expected at least 5 s, found 4.9 s", // 149/30 s
        Read("time,level\n" + Rows(0, 150, t => t % 5)).Problem!.ToString(),
        StringComparison.Ordinal);

    [Fact]
    public void Of_several_regions_one_must_be_named()
    {
        string text = "time,level,region\n" + string.Join('\n', Enumerable.Range(0, 400).Select(t => FormattableString.Invariant($"{(t / 2) / 30.0},{t % 9},{(t % 2 == 0 ? "left" : "right")}")));
        Assert.Equal(
            "the trace has several regions at line 3, column region: expected one, or a name, found 'left', 'right'; name one of its regions (--region)",
            Read(text).Problem!.ToString());
        Assert.Equal(200, Read(text, "left").Trace!.Count);
        Assert.Contains("the trace has no such region", Read(text, "middle").Problem!.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_region_of_a_trace_that_has_none_is_refused() => Assert.Equal(
        "this trace has no regions: expected a column 'region', found none; leave region 'X' out, or use the trace of the video that has it",
        Read("time,level\n" + Rows(0, 300, t => t % 7), "X").Problem!.ToString());

    [Fact]
    public void Another_kind_of_file_is_said_to_be_one() =>
        Assert.StartsWith("this is not a text file: expected a trace in CSV, found a zero byte in line 1", Read("M<\0\0+\n").Problem!.ToString(), StringComparison.Ordinal);

    [Fact]
    public void Random_text_never_throws()
    {
        Testing.Rigs.RigRandom random = new(5);
        const string Letters = "time,level\n0.5;:\"#-eNaT\t\r\uFEFF9";
        for (int i = 0; i < 3000; i++)
        {
            string text = (i % 2 == 0 ? "time,level\n" : "") + new string([.. Enumerable.Range(0, random.Below(60)).Select(_ => Letters[random.Below(Letters.Length)])]);
            TraceReading reading = Read(text);
            Assert.True(reading.Trace is null != reading.Problem is null);
        }
    }

    [Fact]
    public void A_trace_at_another_rate_is_brought_to_the_grid()
    {
        // 120 readings a second of a ramp: each grid sample is the mean of the readings around it, which lies on the ramp.
        Timestamp[] times = [.. Enumerable.Range(0, 1200).Select(i => Start + Duration.FromSeconds(i / 120.0))];
        LightTrace trace = new(times, [[.. Enumerable.Range(0, 1200).Select(i => i / 120.0)]]);
        TraceGrid grid = trace.ToGrid(Start, 300);
        Assert.Equal(300, grid.Count);
        Assert.All(Enumerable.Range(1, 297), k => Assert.Equal(k / 30.0, grid.Channels[0][k], 0.0051));

        // 10 a second: the straight line between the neighbours.
        LightTrace slow = new([.. times.Where((_, i) => i % 12 == 0)], [[.. Enumerable.Range(0, 100).Select(i => i / 10.0)]]);
        Assert.All(Enumerable.Range(0, 290), k => Assert.Equal(k / 30.0, slow.ToGrid(Start, 300).Channels[0][k], 1e-6));
    }

    private static TraceReading Read(string text, string? region = null) => TraceReader.Read(new StringReader(text), Start, End, region);

    private static string Rows(int from, int count, Func<int, int> value) =>
        string.Join('\n', Enumerable.Range(0, count).Select(t => FormattableString.Invariant($"{from + (t / 30.0)},{value(t)}")));
}
