using System.Globalization;
using System.Text;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Tables;
using DmxProbe.Fixtures.Tests.Tables;
using DmxProbe.Testing.Charts;

namespace DmxProbe.Fixtures.Tests.Charts;

public sealed class ChartReaderTests
{
    private const string Header = "mode,slot,function,from,to,meaning\n";

    [Fact]
    public void A_chart_has_its_modes_slots_and_ranges_in_order()
    {
        Chart chart = Whole(Header + "B,2,Red,0,255,\nB,1,Dimmer,0,255,0-100%\nA,1,Strobe,10,255,Strobe\nA,1,Strobe,0,9,Off\n");
        Assert.Equal("par", chart.Type);
        Assert.Equal(["B", "A"], chart.Modes.Select(mode => mode.Name));
        Assert.Equal([1, 2], chart.Modes[0].Slots.Select(slot => slot.Slot));
        Assert.Equal(2, chart.Modes[0].Footprint);
        Assert.Equal([new ChartRange(0, 9, "Off", RangeEffect.Open), new ChartRange(10, 255, "Strobe", RangeEffect.Flashing)], chart.Modes[1].Slots[0].Ranges);
    }

    [Fact]
    public void The_footprint_is_the_highest_slot_mentioned() =>
        Assert.Equal(9, Whole(Header + "A,1,Dimmer,0,255,\nA,9,Red,0,255,\n").Modes[0].Footprint);

    [Theory]
    [InlineData("Mode;SLOT;Function;From;To;Meaning\nA;1;Dimmer;0;255;\n")]
    [InlineData("mode\tslot\tfunction\tfrom\tto\tmeaning\nA\t1\tDimmer\t0\t255\t\n")]
    [InlineData("\uFEFFmode,slot,function,from,to,meaning\r\nA,1,Dimmer,0,255,\r\n")]
    [InlineData("# a comment, with \"one quote\n\n\nmode,slot,function,from,to,meaning\n  # another\nA,1,Dimmer,0,255,\n\n,,,,,\n")]
    [InlineData("to,from,meaning,extra,function,slot,mode\n255,0,,words,Dimmer,1,A\n")]
    [InlineData("mode,slot,function,from,to,meaning\n\"A\",\"1\",\"Dimmer\",\"0\",\"255\",\"\"\n")]
    [InlineData("mode,slot,function,from,to,meaning\n A , 1 , Dimmer , 0 , 255 ,\n")]
    [InlineData("mode,slot,function,from,to,meaning\nA,1,Dimmer,0,255")]
    [InlineData("mode,slot,function,from,to,meaning\nA,1,Dimmer,0,255,,,,\n")]
    [InlineData("mode,slot,function,from,to,meaning\rA,1,Dimmer,0,255,\r")]
    public void Spreadsheets_save_it_differently_and_it_reads_the_same(string text)
    {
        ChartMode mode = Assert.Single(Whole(text).Modes);
        ChartSlot slot = Assert.Single(mode.Slots);
        Assert.Equal(("A", 1, "Dimmer", SlotRole.Intensity), (mode.Name, slot.Slot, slot.Function, slot.Role));
        Assert.Equal(new ChartRange(0, 255, "", RangeEffect.Proportional), Assert.Single(slot.Ranges));
    }

    [Fact]
    public void A_quoted_meaning_may_hold_separators_quotes_and_line_ends()
    {
        const string Rows = Header + "A,1,Strobe,0,9,\"off, \"\"steady\"\"\n# light\"\nA,1,Strobe,10,255,Strobe\n";
        Chart chart = Whole(Rows);
        Assert.Equal(5, Read(Rows + "A,x,Red,0,255,\n").Problems[0].Line); // the quoted line end counts
        Assert.Equal("off, \"steady\"\n# light", chart.Modes[0].Slots[0].Ranges[0].Meaning);
    }

    [Theory]
    [InlineData("mode,slot,function,from,meaning\nA,1,Dimmer,0,\n",
        "a column is missing, line 1, column to: expected a header with mode,slot,function,from,to,meaning, found 'mode', 'slot', 'function', 'from', 'meaning'; name the columns so, in any order and case")]
    [InlineData("mode,slot,slot,function,from,to,meaning\n", "a column is there twice, line 1, column slot: expected each name once, found two of it; rename one of them")]
    [InlineData(Header + "A,one,Dimmer,0,255,\n", "not a whole number, line 2, column slot: expected 1 to 512, found 'one'; slot 1 is the start address")]
    [InlineData(Header + "A,1,Dimmer,,255,\n", "not a whole number, line 2, column from: expected 0 to 255, found nothing; give the first value of the range")]
    [InlineData(Header + "A,1.5,Dimmer,0,255,\n", "not a whole number, line 2, column slot: expected 1 to 512, found '1.5'; slot 1 is the start address")]
    [InlineData(Header + "# c\n\nA,0,Dimmer,0,255,\n", "a number out of range, line 4, column slot: expected 1 to 512, found '0'; slot 1 is the start address")]
    [InlineData(Header + "A,513,Dimmer,0,255,\n", "a number out of range, line 2, column slot: expected 1 to 512, found '513'; slot 1 is the start address")]
    [InlineData(Header + "A,99999999999,Dimmer,0,255,\n", "not a whole number, line 2, column slot: expected 1 to 512, found '99999999999'; slot 1 is the start address")]
    [InlineData(Header + "A,1,Dimmer,0,256,\n", "a number out of range, line 2, column to: expected 0 to 255, found '256'; give the last value of the range")]
    [InlineData(Header + "A,1,Dimmer,-1,255,\n", "a number out of range, line 2, column from: expected 0 to 255, found '-1'; give the first value of the range")]
    [InlineData(Header + "A,1,Dimmer,200,100,\n", "a range that ends before it starts, line 2, column to: expected 200 or more, found '100'; swap from and to")]
    [InlineData(Header + "A,1,Dimmer,0,100,\nA,1,Dimmer,90,255,\n",
        "overlapping ranges in slot 1 of mode 'A', line 3, column from: expected 101 or more, found 90 to 255 (values 90 to 100 are taken by line 2); let the ranges cover 0 to 255 once")]
    [InlineData(Header + "A,1,Dimmer,0,255,\nA,1,Dimmer,0,255,\n",
        "overlapping ranges in slot 1 of mode 'A', line 3, column from: expected no further range, found 0 to 255 (values 0 to 255 are taken by line 2); let the ranges cover 0 to 255 once")]
    [InlineData(Header + "A,1,Dimmer,0,100,\nA,1,Dimmer,102,255,\n",
        "a gap in slot 1 of mode 'A', line 3, column from: expected ranges that cover 0 to 255, found nothing for values 101 to 101; add a row for them; write 'unknown' as its meaning when the chart does not say")]
    [InlineData(Header + "A,2,Dimmer,0,100,\n",
        "a gap in slot 2 of mode 'A', line 2, column from: expected ranges that cover 0 to 255, found nothing for values 101 to 255; add a row for them; write 'unknown' as its meaning when the chart does not say")]
    [InlineData(Header + "A,1,Red,0,100,\nA,1,Green,101,255,\n",
        "a slot with two names, line 3, column function: expected 'Red' as on line 2 for slot 1 of mode 'A', found 'Green'; give all ranges of a slot the same function, or correct the slot")]
    [InlineData(Header + ",1,Red,0,255,\n", "an empty cell, line 2, column mode: expected a name, found nothing; fill it in, or put # in front of the line to leave it out")]
    [InlineData(Header + "A,1,Red,0,255,red, green\n", "a row is longer than the header, line 2: expected 6 cells, found 7; put text that holds a separator in quotes")]
    [InlineData(Header + "A,1,Red,0,255,\"open\n", "a quoted text is never closed, line 2: expected a closing quote, found the end of the file; close it, or write a quote that is meant as two quotes inside quotes")]
    [InlineData(Header, "the file has no rows: expected rows below the header, found none; check that it is the right file and that it was saved")]
    [InlineData("", "the file has no rows: expected a header mode,slot,function,from,to,meaning and rows below it, found none; check that it is the right file and that it was saved")]
    [InlineData("mode\0", "this is not a text file, line 1: expected text with separators, found a zero byte; check that it is the right file, and save it as CSV text (UTF-8)")]
    [InlineData(Header + "A,\u001b[2J,Dimmer,0,255,\n", "not a whole number, line 2, column slot: expected 1 to 512, found '\\u001B[2J'; slot 1 is the start address")]
    public void A_refusal_is_one_sentence_with_its_place(string text, string sentence)
    {
        ChartReading reading = Read(text);
        Assert.Null(reading.Chart);
        Assert.Equal(sentence, reading.Problems[0].ToString());
    }

    [Fact]
    public void All_problems_are_told_up_to_twenty()
    {
        StringBuilder text = new(Header);
        for (int i = 0; i < 30; i++)
        {
            text.Append("A,x,Red,0,255,\n");
        }

        IReadOnlyList<TableProblem> problems = Read(text.ToString()).Problems;
        Assert.Equal(Enumerable.Range(2, 20), problems.Select(problem => problem.Line));
    }

    [Fact]
    public void A_name_that_is_too_long_is_refused()
    {
        TableProblem problem = Read(Header + new string('m', 101) + ",1,Red,0,255,\n").Problems[0];
        Assert.Equal(("a text that is too long", "mode", "at most 100 characters"), (problem.What, problem.Column, problem.Expected));
        Assert.True(problem.ToString().Length < 250);
    }

    [Fact]
    public void More_than_100_000_rows_are_refused()
    {
        StringBuilder text = new(Header);
        for (int row = 0; row <= ChartReader.MaxRows; row++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{row / 512},{(row % 512) + 1},Red,0,255,\n");
        }

        TableProblem problem = Assert.Single(Read(text.ToString()).Problems);
        Assert.Equal(("too many rows", ChartReader.MaxRows + 2), (problem.What, problem.Line));
        string most = text.ToString();
        Assert.NotNull(Read(most[..(most.TrimEnd('\n').LastIndexOf('\n') + 1)]).Chart);
    }

    [Fact]
    public void A_text_without_end_is_refused()
    {
        using EndlessReader endless = new();
        Assert.Equal("the file is too long", Assert.Single(ChartReader.Read("par", endless).Problems).What);
    }

    [Fact]
    public void A_line_of_a_million_cells_is_refused_or_read_but_never_thrown_at() =>
        Assert.NotEmpty(Read(Header + new string(',', 1_000_000) + "x\n").Problems);

    [Fact]
    public void Every_cut_of_a_chart_gives_a_chart_or_a_sentence()
    {
        string text = EvaluationCharts.Text("wash10");
        int whole = 0;
        for (int length = 0; length <= text.Length; length++)
        {
            whole += Check(Read(text[..length]));
        }

        // A cut behind a complete slot is a shorter chart; everywhere else it is refused.
        Assert.InRange(whole, 10, text.Length / 2);
        Assert.NotNull(Read(text).Chart);
    }

    [Fact]
    public void Noise_gives_a_chart_or_a_sentence()
    {
        int whole = Noise.Texts(20260102, EvaluationCharts.Text("wash10")).Sum(text => Check(Read(text)));
        Assert.True(whole > 0);
    }

    /// <summary>Holds a reading against what every caller relies on; 1 for a chart.</summary>
    private static int Check(ChartReading reading)
    {
        Assert.NotEqual(reading.Chart is null, reading.Problems.Count == 0);
        foreach (TableProblem problem in reading.Problems)
        {
            string sentence = problem.ToString();
            Assert.DoesNotContain(sentence, char.IsControl);
            Assert.True(problem.Line > 0 || problem.What is "the file has no rows", sentence);
        }

        foreach (ChartMode mode in reading.Chart?.Modes ?? [])
        {
            Assert.Equal(mode.Slots[^1].Slot, mode.Footprint);
            foreach (ChartSlot slot in mode.Slots)
            {
                Assert.Equal((0, 255, 256), (slot.Ranges[0].From, slot.Ranges[^1].To, slot.Ranges.Sum(range => range.To - range.From + 1)));
            }
        }

        return reading.Chart is null ? 0 : 1;
    }

    private static ChartReading Read(string text)
    {
        using StringReader reader = new(text);
        return ChartReader.Read("par", reader);
    }

    private static Chart Whole(string text)
    {
        ChartReading reading = Read(text);
        Assert.Empty(reading.Problems);
        return reading.Chart!;
    }

    private sealed class EndlessReader : TextReader
    {
        public override int Read(char[] buffer, int index, int count)
        {
            Array.Fill(buffer, 'a', index, count);
            return count;
        }
    }
}
