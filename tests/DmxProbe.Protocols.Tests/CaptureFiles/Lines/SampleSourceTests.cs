using System.IO.Compression;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Lines;
using DmxProbe.Testing.Measuring;

namespace DmxProbe.Protocols.Tests.CaptureFiles.Lines;

public sealed class SampleSourceTests
{
    private static readonly LineFileOptions OneMegahertz = new() { Rate = 1_000_000 };

    // standards-facts F2: 2 probes, unitsize 1, octets 01 03 02 00: probe 1 is 1,1,0,0 and probe 2 is 0,1,1,0.
    [Fact]
    public void The_check_value_of_a_session_gives_its_levels()
    {
        LineReading read = LineReading.Of(new SessionBytes().With([1, 3, 2, 0]));
        Assert.Equal(["0H 2L end 4", "0L 1H 3L end 4"], read.Tracks.Select(track => track.ToString()));
        Assert.Equal(["DMX+", "DMX-"], read.Interfaces.Select(face => face.Name));
        Assert.Equal((1_000_000, 1_000), (read.Interfaces[0].TicksPerSecond, read.Interfaces[0].Resolution.Nanoseconds));
        Assert.Empty(read.Assumptions);
        Assert.Null(read.Problem);
    }

    // standards-facts F4.4: samplerate=2 MHz and 46 samples low are 23 us.
    [Fact]
    public void The_rate_of_a_session_is_a_number_with_its_unit()
    {
        byte[] samples = [1, .. new byte[46], 1];
        LineReading read = LineReading.Of(new SessionBytes { Metadata = "capturefile=logic-1\ntotal probes=1\nsamplerate=2 MHz\nunitsize=1\n" }.With(samples));
        Assert.Equal("0H 1L 47H end 48", read.Tracks[0].ToString());
        Assert.Equal(23.0, 46e6 / read.Interfaces[0].TicksPerSecond);
        Assert.Equal("line 1", read.Interfaces[0].Name);
    }

    [Fact]
    public void Raw_samples_give_all_eight_lines_or_the_one_wanted()
    {
        byte[] samples = [0x88, 0x80, 0x80, 0x08, 0x88];
        LineReading all = LineReading.Of(samples, OneMegahertz);
        Assert.Equal(8, all.Interfaces.Count);
        Assert.Equal("0H 1L 3H end 5", all.Tracks[3].ToString());
        Assert.Equal("0H 3L 4H end 5", all.Tracks[7].ToString());
        LineReading one = LineReading.Of(samples, OneMegahertz with { Bit = 3 });
        Assert.Equal("bit 3", Assert.Single(one.Interfaces).Name);
        Assert.Equal("0H 1L 3H end 5", one.Tracks[0].ToString());
        Assert.Contains("raw samples of one octet at 1 MHz (--rate)", Assert.Single(one.Assumptions), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(8)]
    public void Edges_are_those_of_a_plain_loop_whatever_the_length_of_a_sample_and_how_busy_it_is(int unit)
    {
        Random random = new(unit);
        foreach (int oneIn in (int[])[1, 3, 40, 700, 20_000])
        {
            byte[] octets = Samples(random, unit, 60_000, oneIn);
            string metadata = $"capturefile=logic-1\ntotal probes={8 * unit}\nsamplerate=10 kHz\nunitsize={unit}\n";
            int cut = octets.Length / 3 / unit * unit;
            LineReading read = LineReading.Of(new SessionBytes { Metadata = metadata, Level = CompressionLevel.Fastest }
                .With(("logic-1-1", octets[..cut]), ("logic-1-2", octets[cut..])));
            Assert.Null(read.Problem);
            for (int line = 0; line < 8 * unit; line++)
            {
                Assert.Equal(PlainEdges(octets, unit, line), read.Tracks[line].Changes);
                Assert.Equal(60_000, read.Tracks[line].End);
            }
        }
    }

    [Fact]
    public void Lines_that_are_not_wanted_cost_no_edges_and_hide_none()
    {
        Random random = new(5);
        byte[] octets = Samples(random, 1, 100_000, 2);
        for (int bit = 0; bit < 8; bit++)
        {
            LineReading read = LineReading.Of(octets, OneMegahertz with { Bit = bit });
            Assert.Equal(PlainEdges(octets, 1, bit), Assert.Single(read.Tracks).Changes);
        }
    }

    [Fact]
    public void Runs_are_at_most_a_quarter_second_and_reading_allocates_nothing_per_record()
    {
        byte[] octets = new byte[2_000_000];
        for (int i = 0; i < octets.Length; i++)
        {
            octets[i] = (byte)(i / 5 & 1);
        }

        LineReading read = LineReading.Of(octets, OneMegahertz with { Bit = 0 });
        Assert.InRange(read.Records, 8, 14);
        Assert.Equal(400_000, read.Tracks[0].Changes.Count);

        // At 1 kHz a run holds 250 samples.
        using ICaptureSource source = CaptureFileReader.Open(new MemoryStream(octets), "test", new LineFileOptions { Rate = 1_000, Bit = 0 });
        int read150 = 0;
        int longest = 0;
        Assert.Equal(0, Allocations.Least(() =>
        {
            for (int i = 0; i < 150 && source.Read(out CaptureRecord record) == ReadStatus.Record; i++)
            {
                read150++;
                longest = Math.Max(longest, record.Data.Length);
            }
        }));
        Assert.InRange(read150, 150, 8_000);
        Assert.InRange(longest, 16 + (4 * 49), 16 + (4 * 51));
    }

    [Fact]
    public void A_session_cut_anywhere_gives_the_samples_before_the_cut_and_one_sentence()
    {
        Random random = new(8);
        byte[] octets = Samples(random, 1, 3_000, 6);
        foreach (bool pieces in (bool[])[false, true])
        {
            byte[] file = pieces
                ? new SessionBytes().With(("logic-1-1", octets[..1_000]), ("logic-1-2", octets[1_000..2_000]), ("logic-1-3", octets[2_000..]))
                : new SessionBytes { Level = CompressionLevel.NoCompression }.With(("logic-1", octets));
            long longest = 0;
            for (int length = 1; length < file.Length; length++)
            {
                try
                {
                    LineReading read = LineReading.Of(file[..length]);
                    string sentence = read.Problem!.ToString();
                    Assert.InRange(sentence.Length, 20, 250);
                    Assert.EndsWith(read.Tracks[0].End == 0 ? "nothing could be read before it" : "s before it were read", sentence, StringComparison.Ordinal);
                    Assert.True(read.Tracks[0].End >= longest, $"a longer piece ({length}) gave less");
                    longest = read.Tracks[0].End;
                    Assert.Equal(longest == 0 ? [(0, LineLevel.Unknown)] : PlainEdges(octets[..(int)longest], 1, 0), read.Tracks[0].Changes);
                }
                catch (InputException refused)
                {
                    Assert.Equal(0, longest);
                    Assert.InRange(refused.Message.Length, 10, 300);
                }
            }

            Assert.Equal(3_000, longest);
        }
    }

    [Fact]
    public void A_wrong_octet_in_a_session_is_seen_by_the_checksum()
    {
        Random random = new(9);
        byte[] octets = Samples(random, 1, 400, 6);
        byte[] file = new SessionBytes().With(octets);
        int at = file.AsSpan().IndexOf("logic-1-1"u8) + "logic-1-1".Length;
        int end = file.AsSpan(at).IndexOf("PK"u8) + at;
        for (int i = at; i < end; i++)
        {
            byte[] wrong = [.. file];
            wrong[i] ^= 0x10;
            LineReading read = LineReading.Of(wrong);

            // The bits after the last code of the packed data mean nothing.
            Assert.True(read.Problem is not null || i == end - 1, $"the wrong octet {i} went unseen");
            Assert.True(read.Problem is not null || read.Tracks[0].Changes.SequenceEqual(PlainEdges(octets, 1, 0)));
        }
    }

    [Theory]
    [InlineData("capturefile=logic-1\ntotal probes=1\nunitsize=1\n", "the session does not say how fast it was sampled: expected samplerate=1 MHz or the like in its metadata; give --rate")]
    [InlineData("capturefile=logic-1\ntotal probes=1\nsamplerate=fast\nunitsize=1\n", "the session does not say how fast it was sampled: expected samplerate=1 MHz or the like in its metadata, found fast; give --rate")]
    [InlineData("total probes=1\nsamplerate=1 MHz\nunitsize=1\n", "the session holds no logic samples: expected a member with samples, found none; record the line with a logic channel, or export it as CSV")]
    [InlineData("capturefile=logic-1\ntotal probes=99\nsamplerate=1 MHz\nunitsize=9\n", "the session describes its samples in a way that cannot be: expected 1 to 8 octets and at least one line, found 9 octets and 72 lines; save it again, or as VCD")]
    public void A_session_that_says_too_little_is_refused(string metadata, string sentence) =>
        Assert.Equal("test: " + sentence, Assert.Throws<InputException>(() => LineReading.Of(new SessionBytes { Metadata = metadata }.With([1, 2, 3]))).Message);

    [Fact]
    public void A_zip_that_is_no_session_and_one_of_another_version_are_refused()
    {
        using MemoryStream other = new();
        using (ZipArchive archive = new(other, ZipArchiveMode.Create, leaveOpen: true))
        {
            archive.CreateEntry("description.xml").Open().Dispose();
        }

        Assert.Equal(
            "test: a zip archive, but no session of a logic analyser: expected a readable member named metadata, found none; if a capture is packed in it, unpack it first",
            Assert.Throws<InputException>(() => LineReading.Of(other.ToArray())).Message);
        Assert.Contains("version 1 or 2, found 3", Assert.Throws<InputException>(() => LineReading.Of(new SessionBytes { Version = "3" }.With([1]))).Message, StringComparison.Ordinal);
        Assert.Contains("not from a pipe", Assert.Throws<InputException>(() => LineReading.Of(new TrickleStream(new SessionBytes().With([1]), 50))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_piece_that_is_missing_ends_the_reading_there()
    {
        LineReading read = LineReading.Of(new SessionBytes().With(("logic-1-1", [1, 0]), ("logic-1-3", [1, 0])));
        Assert.Equal("0H 1L end 2", read.Tracks[0].ToString());
        Assert.Equal("a piece of the session is missing: expected logic-1-2, found logic-1-3; the 0.000002 s before it were read", read.Problem?.ToString());
    }

    [Fact]
    public void A_sample_that_is_cut_is_not_used()
    {
        LineReading read = LineReading.Of(new SessionBytes { Metadata = SessionBytes.Describe(1_000, 16) }.With([1, 0, 0, 1, 7]));
        Assert.Equal("0H 1L end 2", read.Tracks[0].ToString());
        Assert.Equal("the recording ends inside a sample at byte 4: expected 2 octets, found 1; the 0.002 s before it were read", read.Problem?.ToString());
    }

    [Fact]
    public void A_rate_given_for_a_session_that_states_one_is_not_used_and_that_is_said()
    {
        LineReading read = LineReading.Of(new SessionBytes().With([1, 0]), new LineFileOptions { Rate = 5_000_000 });
        Assert.Equal(1_000_000, read.Interfaces[0].TicksPerSecond);
        Assert.Contains("The session states its rate, 1 MHz; --rate is not used.", read.Assumptions);
    }

    [Fact]
    public void Changed_sessions_never_throw()
    {
        Random random = new(77);
        byte[] file = new SessionBytes().With(("logic-1-1", Samples(random, 1, 500, 4)), ("logic-1-2", Samples(random, 1, 500, 4)));
        for (int round = 0; round < 4_000; round++)
        {
            byte[] changed = [.. file];
            for (int i = random.Next(1, 6); i > 0; i--)
            {
                changed[random.Next(4, changed.Length)] = random.Next(2) == 0 ? (byte)random.Next(256) : (byte)0xFF;
            }

            try
            {
                _ = LineReading.Of(changed);
            }
            catch (InputException)
            {
                // Refused with a sentence.
            }
        }
    }

    private static byte[] Samples(Random random, int unit, int count, int oneIn)
    {
        byte[] octets = new byte[unit * count];
        byte[] now = new byte[unit];
        random.NextBytes(now);
        for (int i = 0; i < count; i++)
        {
            if (random.Next(oneIn) == 0)
            {
                now[random.Next(unit)] ^= (byte)(1 << random.Next(8));
            }

            now.CopyTo(octets, i * unit);
        }

        return octets;
    }

    private static List<(long Tick, LineLevel Level)> PlainEdges(byte[] octets, int unit, int line)
    {
        List<(long, LineLevel)> edges = [];
        for (int i = 0; i < octets.Length / unit; i++)
        {
            LineLevel level = (LineLevel)((octets[(i * unit) + (line / 8)] >> (line % 8)) & 1);
            if (edges.Count == 0 || edges[^1].Item2 != level)
            {
                edges.Add((i, level));
            }
        }

        return edges;
    }
}
