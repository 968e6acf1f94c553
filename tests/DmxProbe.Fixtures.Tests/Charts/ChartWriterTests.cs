using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Tests.Charts;

public sealed class ChartWriterTests
{
    [Fact]
    public void A_typed_chart_is_written_as_it_was_typed()
    {
        const string Typed = "mode,slot,function,from,to,meaning\n4-slot,1,Shutter,0,9,Closed\n4-slot,1,Shutter,10,199,\"Strobe, slow to fast\"\n4-slot,1,Shutter,200,255,Open\n4-slot,2,Pan,0,255,\n4-slot,3,Pan fine,0,255,\n";
        Assert.Equal(Typed, Written(Read(Typed)));
    }

    [Fact]
    public void What_the_words_do_not_say_is_written_in_columns_of_its_own()
    {
        const string Typed = "mode,slot,function,from,to,meaning,role,effect,low,default,cell,when\n" +
            "m,1,Wobble,0,255,,beam,fixed,,7,Left,\n" +
            "m,2,Level A,0/2,32895/2,low,,closed,5,,,\n" +
            "m,2,Level A,32896/2,65535/2,high,,open,,,,\n" +
            "m,3,Red,0,255,,,,,,,\n" +
            "m,3,Red,0,255,macro,,,,,,1:10-20\n" +
            "m,3,Red,0,255,macro,,,,,,2:0/2-32895/2\n" +
            "m,5,Second byte,0,255,,fine,,,,,\n";
        Chart chart = Read(Typed);
        Assert.Equal((SlotRole.Beam, 7, "Left"), (chart.Modes[0].Slots[0].Role, chart.Modes[0].Slots[0].Default, chart.Modes[0].Slots[0].Cell));
        Assert.Equal([5], chart.Modes[0].Find(2)!.LowSlots);
        Assert.Equal(RangeEffect.ProgrammeRuns, chart.Modes[0].RangeAt(3, [10, 255, 1, 0, 255])!.Effect);
        Assert.Equal(RangeEffect.ProgrammeRuns, chart.Modes[0].RangeAt(3, [9, 128, 1, 0, 127])!.Effect);
        Assert.Equal(RangeEffect.Proportional, chart.Modes[0].RangeAt(3, [9, 128, 1, 0, 128])!.Effect);
        SameCharts.Equal(chart, Read(Written(chart)));
        Assert.Equal(Typed, Written(chart));
    }

    [Theory]
    [InlineData("=1+1")]
    [InlineData("-100%")]
    [InlineData("@x")]
    [InlineData("'=1+1")]
    [InlineData("''-")]
    [InlineData("# not a remark")]
    [InlineData("a \"quoted\", text; and\tmore")]
    [InlineData("'")]
    public void Any_text_reads_back_and_no_cell_is_a_formula(string text)
    {
        ChartSlot slot = new(1, text, RoleInference.RoleOf(text, [text]), [new ChartRange(0, 255, text, RangeEffect.Unknown)]) { Cell = text };
        Chart chart = new("x", [new ChartMode(text, [slot], 1)]);
        string csv = Written(chart);
        SameCharts.Equal(chart, Read(csv));
        Assert.DoesNotContain(csv.Split('\n').SelectMany(line => line.Split(',')), cell => cell.Trim('"') is { Length: > 0 } inner && "=+-@".Contains(inner[0], StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("m,1,Dimmer,0,255,,wrong,,,,,", "not a role")]
    [InlineData("m,1,Dimmer,0,255,,3,,,,,", "not a role")]
    [InlineData("m,1,Dimmer,0,255,,,wrong,,,,", "not an effect")]
    [InlineData("m,1,Dimmer,0,255,,,,1,,,", "not the slots of low bytes")]
    [InlineData("m,1,Dimmer,0,255,,,,2|2,,,", "not the slots of low bytes")]
    [InlineData("m,1,Dimmer,0,255,,,,600,,,", "not the slots of low bytes")]
    [InlineData("m,1,Dimmer,0,255,,,,,256,,", "not a value")]
    [InlineData("m,1,Dimmer,0,255,,,,,,,2:0-9", "not a condition")]
    [InlineData("m,1,Dimmer,0,255,,,,,,,1:0-9", "not a condition")]
    [InlineData("m,1,Dimmer,0,255,,,,,,,x", "not a condition")]
    [InlineData("m,1,Dimmer,0/2,65535/2,,,,,,,", "a value of another width")]
    [InlineData("m,1,Dimmer,0/2,255,,,,,,,", "a range of two widths")]
    [InlineData("m,1,Dimmer,0/9,255,,,,,,,", "not a value of several bytes")]
    [InlineData("m,1,Dimmer,0/1,256/1,,,,,,,", "not a value of several bytes")]
    public void What_does_not_fit_is_refused_with_its_line_and_column(string row, string what)
    {
        using StringReader text = new("mode,slot,function,from,to,meaning,role,effect,low,default,cell,when\n" + row + "\n");
        ChartReading reading = ChartReader.Read("x", text);
        Assert.Null(reading.Chart);
        Assert.StartsWith(what + ", line 2, column ", reading.Problems[0].ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Gaps_and_overlaps_are_found_over_all_bytes_and_conditions_may_leave_gaps()
    {
        const string Head = "mode,slot,function,from,to,meaning,low,when\n";
        Assert.Contains("32000 to 32767", Problem(Head + "m,1,Pan,0/2,31999/2,,2,\nm,1,Pan,32768/2,65535/2,,,\n"), StringComparison.Ordinal);
        Assert.Contains("values 100 to 255 are taken by line 2", Problem(Head + "m,1,Pan,0/2,255/2,,2,\nm,1,Pan,100/2,65535/2,,,\n"), StringComparison.Ordinal);
        Assert.Equal(2, Read(Head + "m,1,Pan,0,255,,,\nm,1,Pan,10,20,x,,2:0-9\nm,2,Zoom,0,255,,,\n").Modes[0].Find(1)!.Exact.Count);
    }

    [Fact]
    public void Two_things_said_of_one_slot_are_refused() =>
        Assert.StartsWith("two things said of one slot, line 3, column default", Problem("mode,slot,function,from,to,meaning,default\nm,1,Pan,0,9,,1\nm,1,Pan,10,255,,2\n"), StringComparison.Ordinal);

    private static string Problem(string csv)
    {
        using StringReader text = new(csv);
        return Assert.Single(ChartReader.Read("x", text).Problems).ToString();
    }

    private static Chart Read(string csv)
    {
        using StringReader text = new(csv);
        ChartReading reading = ChartReader.Read("x", text);
        Assert.Empty(reading.Problems);
        return reading.Chart!;
    }

    private static string Written(Chart chart)
    {
        using StringWriter csv = new();
        ChartWriter.Write(csv, chart);
        return csv.ToString();
    }
}
