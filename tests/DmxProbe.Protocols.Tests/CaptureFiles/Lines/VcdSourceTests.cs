using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;
using DmxProbe.Testing.Lines;

namespace DmxProbe.Protocols.Tests.CaptureFiles.Lines;

/// <summary>Grammar: IEEE 1364 VCD as in standards-facts F1; the first case is its check value F4.1.</summary>
public sealed class VcdSourceTests
{
    private const string Head = "$timescale 1 us $end\n$var wire 1 ! data $end\n$enddefinitions $end\n";

    [Fact]
    public void The_check_value_of_the_facts_sheet_gives_its_edges_and_its_double_value_gives_none()
    {
        LineReading read = LineReading.Of(
            "$timescale 1 us $end $var wire 1 ! data $end $enddefinitions $end #0 1! #20 0! #112 1! #124 0! #160 1! #168 0! #172 1! #204 1! #212 0!");
        Assert.Equal("0H 20L 112H 124L 160H 168L 172H 212L end 212", read.Tracks[0].ToString());
        Assert.Null(read.Problem);
        Assert.Equal(("data", 1_000_000, 1_000), (read.Interfaces[0].Name, read.Interfaces[0].TicksPerSecond, read.Interfaces[0].Resolution.Nanoseconds));
    }

    [Theory]
    [InlineData("1 s", 1, 1_000_000_000)]
    [InlineData("100 ms", 10, 100_000_000)]
    [InlineData("10us", 100_000, 10_000)]
    [InlineData("1\n\tns", 1_000_000_000, 1)]
    [InlineData("100 ps", 10_000_000_000, 1)]
    [InlineData("1 ps", 1_000_000_000_000, 1)]
    public void Every_time_unit_becomes_the_clock_of_the_runs(string unit, long ticksPerSecond, long resolution)
    {
        LineReading read = LineReading.Of($"$timescale {unit} $end $var wire 1 ! a $end $enddefinitions $end #0 0! #5 1! #9\n");
        Assert.Equal("0L 5H end 9", read.Tracks[0].ToString());
        Assert.Equal((ticksPerSecond, resolution), (read.Interfaces[0].TicksPerSecond, read.Interfaces[0].Resolution.Nanoseconds));
    }

    [Fact]
    public void Units_of_ten_and_hundred_seconds_and_of_femtoseconds_become_ticks_that_can_be_counted()
    {
        Assert.Equal("0L 500H end 900", LineReading.Of("$timescale 100 s $end $var wire 1 ! a $end $enddefinitions $end #0 0! #5 1! #9\n").Tracks[0].ToString());
        LineReading fine = LineReading.Of("$timescale 10 fs $end $var wire 1 ! a $end $enddefinitions $end #0 0! #550 1! #999\n");
        Assert.Equal("0L 5H end 9", fine.Tracks[0].ToString());
        Assert.Contains("Times finer than 1 ps are rounded down to it.", fine.Assumptions);
    }

    [Fact]
    public void A_file_without_a_time_unit_is_read_as_nanoseconds_and_says_so()
    {
        LineReading read = LineReading.Of("$var wire 1 ! a $end $enddefinitions $end #0 0! #5 1!\n");
        Assert.Equal(1_000_000_000, read.Interfaces[0].TicksPerSecond);
        Assert.Contains("The VCD file states no time unit; 1 ns is assumed.", read.Assumptions);
    }

    [Theory]
    [InlineData("#0 1! #5 0! #9\n")] // several statements on a line, no $dumpvars
    [InlineData("#0\n1!\n#5\n0!\n#9\n")]
    [InlineData("#0\r\n1!\r\n#5\r\n0!\r\n#9\r\n")]
    [InlineData("#0\n$dumpvars\n1!\n$end\n#5\n0!\n#9\n")]
    [InlineData("$dumpvars 1! $end #5 0! #9\n")] // before the first time: at 0
    [InlineData("#0 b1 ! #5 b0 ! #9 \n")]
    [InlineData("#0 B0001 ! #5 b0 ! #9 \n")]
    [InlineData("#0 1! #5 $comment #7 1! it's nothing $end 0! #9\n")]
    [InlineData("#0 1! #2 1! #5 #5 0! 1! 0! #7 r1.5 ~ sword ~ #9\n")] // the last value of a tick counts
    [InlineData("#0 0! 1! #3 x! 1! #5 0! #9\n")] // unknown over no time at all
    [InlineData("#0 1! #5 x! 0! #9\n")]
    [InlineData("#0 1! #5 z! 1! 0! x! 0! #9\n")]
    public void Ways_of_writing_the_same_changes_give_the_same_edges(string body)
    {
        LineReading read = LineReading.Of("\uFEFF$timescale 1 us $end\n$var wire 1 ! data $end $var real 1 ~ v $end\n$enddefinitions $end\n" + body);
        Assert.Equal("0H 5L end 9", read.Tracks[0].ToString());
        Assert.Null(read.Problem);
        Assert.Contains("1 variables that are no logic levels (real, event and the like) are not read.", read.Assumptions);
    }

    [Fact]
    public void What_is_x_or_z_is_unknown_and_no_edge()
    {
        LineReading read = LineReading.Of(Head + "#0 x! #3 1! #5 0! #8 Z! #9 0! #12 X! #20\n");
        Assert.Equal("0? 3H 5L 8? 9L 12? end 20", read.Tracks[0].ToString());
    }

    [Fact]
    public void A_channel_that_never_gets_a_value_is_unknown_to_the_end()
    {
        LineReading read = LineReading.Of("$timescale 1 us $end $var wire 1 ! a $end $var wire 1 ? b $end $enddefinitions $end #0 1! #7 0! #9\n");
        Assert.Equal("0H 7L end 9", read.Tracks[0].ToString());
        Assert.Equal("0? end 9", read.Tracks[1].ToString());
    }

    [Fact]
    public void Times_are_counted_from_the_first_of_the_file()
    {
        LineReading read = LineReading.Of(Head + "#1000 1! #1005 0! #1009\n");
        Assert.Equal("0H 5L end 9", read.Tracks[0].ToString());
        Assert.Contains("Times are counted from the first of the file, #1000.", read.Assumptions);
    }

    [Fact]
    public void Vectors_become_a_channel_for_each_bit_with_the_numbers_of_their_range()
    {
        LineReading read = LineReading.Of(
            "$timescale 1 us $end $scope module top $end $var reg 3 ab bus [6:4] $end $var wire 2 c pair $end $upscope $end $enddefinitions $end " +
            "#0 b10 ab b1 c #5 bx ab b111 c #9 0ab 0c #12\n");
        Assert.Equal(["bus[6]", "bus[5]", "bus[4]", "pair[1]", "pair[0]"], read.Interfaces.Select(face => face.Name));
        Assert.Equal(
            ["0L 5? 9L end 12", "0H 5? 9L end 12", "0L 5? 9L end 12", "0L 5H 9L end 12", "0H 9L end 12"],
            read.Tracks.Select(track => track.ToString()));
    }

    [Fact]
    public void Names_keep_their_spaces_and_signs_and_equal_names_get_their_scope()
    {
        LineReading read = LineReading.Of(
            "$timescale 1 us $end $scope module left $end $var wire 1 ! DMX $end $var wire 1 \" DMX Inverse + $end $upscope $end " +
            "$scope module right $end $var wire 1 # DMX $end $var wire 1 ! alias $end $upscope $end $enddefinitions $end #0 1! 0\" 1# #4\n");
        Assert.Equal(["left.DMX", "DMX Inverse +", "right.DMX"], read.Interfaces.Select(face => face.Name));
    }

    [Fact]
    public void Codes_of_many_letters_are_told_apart()
    {
        LineReading read = LineReading.Of(
            "$timescale 1 us $end $var wire 1 a A $end $var wire 1 aa B $end $var wire 1 aaa C $end $enddefinitions $end #0 1a 1aa 0aaa #2 0aa #3 1aaa #4 0a\n");
        Assert.Equal(["0H 4L end 4", "0H 2L end 4", "0L 3H end 4"], read.Tracks.Select(track => track.ToString()));
    }

    [Fact]
    public void More_lines_than_are_read_are_said()
    {
        string many = string.Concat(Enumerable.Range(0, 70).Select(i => $"$var wire 1 v{i} line{i} $end "));
        LineReading read = LineReading.Of("$timescale 1 us $end " + many + "$enddefinitions $end #0 1v0 1v69 #5 0v0\n");
        Assert.Equal(64, read.Interfaces.Count);
        Assert.Equal("0H 5L end 5", read.Tracks[0].ToString());
        Assert.Contains("The first 64 lines are read; 6 variables after them are left out.", read.Assumptions);
    }

    [Fact]
    public void Long_silence_in_fine_ticks_stays_one_level_over_many_runs()
    {
        LineReading read = LineReading.Of("$timescale 1 ps $end $var wire 1 ! a $end $enddefinitions $end #0 1! #7 0! #30000000000000 1! #30000000000001 0! #60000000000000\n");
        Assert.Equal("0H 7L 30000000000000H 30000000000001L end 60000000000000", read.Tracks[0].ToString());
        Assert.InRange(read.Records, 8, 40);
    }

    [Fact]
    public void A_long_recording_comes_in_runs_of_at_most_a_quarter_second_and_so_many_edges()
    {
        System.Text.StringBuilder text = new(Head);
        for (int i = 0; i < 200_000; i++)
        {
            text.Append('#').Append(i * 5).Append(' ').Append(i & 1).Append("!\n");
        }

        LineReading read = LineReading.Of(text.ToString());
        Assert.Equal(200_000, read.Tracks[0].Changes.Count);
        Assert.All(read.Tracks[0].Changes.Select((change, i) => change.Tick - (5 * i)), off => Assert.Equal(0, off));
        Assert.InRange(read.Records, 4, 8);
    }

    [Fact]
    public void The_sampling_period_is_found_where_the_clock_is_finer_and_the_sentence_says_how()
    {
        static string Body(int period) => string.Concat(Enumerable.Range(0, 200).Select(i => $"#{i * i * period} {i & 1}! "));
        LineReading divisor = LineReading.Of("$timescale 1 ns $end $var wire 1 ! a $end $enddefinitions $end " + Body(700) + "\n");
        Assert.Equal(700, divisor.Interfaces[0].Resolution.Nanoseconds);
        Assert.Contains(divisor.Assumptions, sentence => sentence.Contains("greatest common divisor", StringComparison.Ordinal));

        LineReading stated = LineReading.Of("$comment taken at 2 MHz $end $timescale 1 ns $end $var wire 1 ! a $end $enddefinitions $end " + Body(1_000) + "\n");
        Assert.Equal(500, stated.Interfaces[0].Resolution.Nanoseconds);

        // 24 MHz in whole nanoseconds, cut off: 0, 41, 83, 125 ...
        string rounded = string.Concat(Enumerable.Range(0, 200).Select(i => $"#{i * i * 1000L / 24} {i & 1}! "));
        LineReading usual = LineReading.Of("$timescale 1 ns $end $var wire 1 ! a $end $enddefinitions $end " + rounded + "\n");
        Assert.Equal(42, usual.Interfaces[0].Resolution.Nanoseconds);
        Assert.Contains(usual.Assumptions, sentence => sentence.Contains("24 MHz", StringComparison.Ordinal));

        // Edges of a signal made of whole bits are no sampling period.
        LineReading bits = LineReading.Of("$timescale 1 us $end $var wire 1 ! a $end $enddefinitions $end " + Body(4) + "\n");
        Assert.Equal(1_000, bits.Interfaces[0].Resolution.Nanoseconds);
    }

    [Theory]
    [InlineData("#0 1! #5 0! #4 1!\n", "the VCD file cannot be read further at byte 78: expected a time not before the one before it, found #4; the 0.000005 s before it were read")]
    [InlineData("#0 1! #5 0! ?? #9\n", "the VCD file cannot be read further at byte 78: expected a time, or a value and the code of a declared variable, found ??; the 0.000005 s before it were read")]
    [InlineData("#0 1! #5 0% #9\n", "the VCD file cannot be read further at byte 75: expected the code of a declared variable, found 0%; the 0.000005 s before it were read")]
    [InlineData("#0 1! #5 b12 ! #9\n", "the VCD file cannot be read further at byte 75: expected bits and the code of a declared variable, found b12; the 0.000005 s before it were read")]
    [InlineData("#0 1! #5 0! #99999999999999999999 1!\n", "the VCD file cannot be read further at byte 78: expected a time of at most 18 digits, found #99999999999999999999; the 0.000005 s before it were read")]
    [InlineData("#0 1! #5 0! #999999999999999 1!\n", "the VCD file cannot be read further at byte 78: expected a time within 7 days, found #999999999999999; the 0.000005 s before it were read")]
    [InlineData("#0 1! #5 0! #12", "the VCD file ends inside a word at byte 78: expected white space after it, found #12; the 0.000005 s before it were read")]
    public void Damage_has_one_sentence_and_what_comes_before_it_is_read(string body, string sentence)
    {
        LineReading read = LineReading.Of(Head + body);
        Assert.Equal(sentence, read.Problem?.ToString());
        Assert.StartsWith("0H", read.Tracks[0].ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("$timescale 1 us $end $var wire 1 ! a $end", "the VCD file ends inside its header at byte 41: expected $enddefinitions $end, found the end of the file; nothing could be read before it")]
    [InlineData("$timescale 3 us $end $var wire 1 ! a $end $enddefinitions $end", "the VCD file states a time unit that cannot be: expected $timescale 1, 10 or 100 and s, ms, us, ns, ps or fs, found 3us; save it again")]
    [InlineData("$timescale 1 us $end $var real 1 ! a $end $enddefinitions $end", "the VCD file declares no variable that can be a line: expected $var wire 1 or the like, found variables of other kinds only; nothing could be read before it")]
    public void A_header_that_cannot_be_used_is_refused(string text, string sentence) =>
        Assert.Equal("test: " + sentence, Assert.Throws<InputException>(() => LineReading.Of(text)).Message);

    [Fact]
    public void A_file_cut_anywhere_gives_what_stands_before_the_cut()
    {
        byte[] bytes = System.Text.Encoding.UTF8.GetBytes(
            "$timescale 1 us $end $var wire 1 ! a $end $var wire 1 !! b $end $var wire 2 % c $end $enddefinitions $end\n" +
            "#0 $dumpvars 1! 0!! b0x % $end #20 0! 1!! #112 1! b1 % #124 x! $comment no $end #1600 1!! 0!\n#170000\n");
        LineReading whole = LineReading.Of(bytes);
        int header = 107;
        for (int length = 1; length < bytes.Length; length++)
        {
            LineReading cut;
            try
            {
                cut = LineReading.Of(bytes[..length]);
            }
            catch (InputException refused)
            {
                Assert.InRange(length, 1, header);
                Assert.InRange(refused.Message.Length, 10, 300);
                continue;
            }

            Assert.True(length >= header - 2, "half a header was taken for a whole one");
            for (int i = 0; i < whole.Tracks.Count; i++)
            {
                IReadOnlyList<(long Tick, LineLevel Level)> expected = whole.Tracks[i].Changes;
                IReadOnlyList<(long Tick, LineLevel Level)> got = cut.Tracks[i].Changes;

                // At the last tick a value may still be missing.
                int sure = got.Count(change => change.Tick < cut.Tracks[i].End);
                Assert.Equal(expected.Take(sure), got.Take(sure));
                Assert.True(cut.Tracks[i].End <= whole.Tracks[i].End);
            }

            // "!" may be the start of "!!" and "#1" of "#12": only after white space is a word known to be whole.
            bool isWhole = bytes[length - 1] <= ' ' || bytes[..length].AsSpan().EndsWith("$end"u8);
            Assert.True(isWhole || cut.Problem is not null || bytes[length - 1] == '!', $"the cut at {length} went unseen");
        }
    }

    [Fact]
    public void Random_octets_in_and_after_the_header_never_throw()
    {
        Random random = new(15);
        byte[] letters = System.Text.Encoding.ASCII.GetBytes("#01xzb!\" \n$end$dumpvars%9 #5 1! 0\"");
        byte[] head = System.Text.Encoding.ASCII.GetBytes("$timescale 1 ps $end $var wire 1 ! a $end $var wire 3 \" b $end $enddefinitions $end ");
        for (int round = 0; round < 20_000; round++)
        {
            byte[] noise = new byte[random.Next(120)];
            for (int i = 0; i < noise.Length; i++)
            {
                noise[i] = random.Next(30) == 0 ? (byte)random.Next(256) : letters[random.Next(letters.Length)];
            }

            byte[] file = random.Next(8) == 0 ? [.. head[..random.Next(head.Length)], .. noise] : [.. head, .. noise];
            try
            {
                _ = LineReading.Of(file);
            }
            catch (InputException)
            {
                // Refused with a sentence.
            }
        }
    }

    [Fact]
    public void However_a_pipe_chunks_it_a_file_gives_the_same_also_packed()
    {
        byte[] bytes = System.Text.Encoding.UTF8.GetBytes(Head + "#0 1! #20 0! #112 1! #124 b0 ! #160 1!\n");
        string expected = LineReading.Of(bytes).Tracks[0].ToString();
        foreach (int most in (int[])[1, 2, 3, 7, 50])
        {
            Assert.Equal(expected, LineReading.Of(new TrickleStream(bytes, most)).Tracks[0].ToString());
        }

        Assert.Equal(expected, LineReading.Of(CapturedFile.Gzip(bytes)).Tracks[0].ToString());
    }
}
