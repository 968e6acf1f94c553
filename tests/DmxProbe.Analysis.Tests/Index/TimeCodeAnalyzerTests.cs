using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Index;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Index;

/// <summary>Time code over a recording. Frames a second by type: Art-Net 4, document 1.4dn, page 64.</summary>
public sealed class TimeCodeAnalyzerTests
{
    private static readonly Timestamp Start = Timestamp.FromUnixNanoseconds(1_000_000_000_000);

    [Theory]
    [InlineData(0, 24)]
    [InlineData(1, 25)]
    [InlineData(3, 30)]
    public void Each_frame_reads_as_it_was_sent(int type, int rate)
    {
        TimeCodeAnalyzer code = new();
        Run(code, 0, 0, 3, type, rate);
        Assert.Single(code.Spans);
        for (int frame = 0; frame < 3 * rate; frame++)
        {
            string expected = $"00:00:{frame / rate:00}:{frame % rate:00}";
            Assert.Equal(expected, code.At(Start + Duration.FromSeconds((double)frame / rate)));
            Assert.Equal((double)frame / rate, (code.Find(expected, Timestamp.MinValue)!.Value - Start).TotalSeconds, 6);
        }
    }

    [Fact]
    public void A_jump_begins_anew_and_a_code_sent_twice_is_found_twice()
    {
        TimeCodeAnalyzer code = new();
        Run(code, 0, 100, 5, 1, 25);
        Run(code, 10, 100, 5, 1, 25);
        Assert.Equal(2, code.Spans.Count);
        Assert.Null(code.At(Start + Duration.FromSeconds(8)));
        Assert.Equal(2, (code.Find("0:1:42", Timestamp.MinValue)!.Value - Start).TotalSeconds, 6);
        Assert.Equal(12, (code.Find("0:1:42", Start + Duration.FromSeconds(5))!.Value - Start).TotalSeconds, 6);
        Assert.Equal(2, (code.Find("0:1:42", Start + Duration.FromSeconds(15))!.Value - Start).TotalSeconds, 6);
        Assert.Null(code.Find("9:0:0", Timestamp.MinValue));
        Assert.Null(code.Find("half past", Timestamp.MinValue));
    }

    [Fact]
    public void Code_that_jumps_with_every_packet_does_not_grow_without_end()
    {
        TimeCodeAnalyzer code = new();
        for (int packet = 0; packet < 3 * TimeCodeAnalyzer.MostSpans; packet++)
        {
            Send(code, packet, packet % 2 * 3600, 1, 25);
        }

        Assert.Equal(TimeCodeAnalyzer.MostSpans, code.Spans.Count);
    }

    private static void Run(TimeCodeAnalyzer code, double at, int from, int seconds, int type, int rate)
    {
        for (int frame = 0; frame < seconds * rate; frame++)
        {
            Send(code, at + ((double)frame / rate), from + ((double)frame / rate), type, rate);
        }
    }

    private static void Send(TimeCodeAnalyzer code, double at, double value, int type, int rate)
    {
        long second = (long)(value + 1e-9);
        long frame = (long)Math.Round((value - second) * rate);
        code.OnEvent(new LinkEvent(
            LinkEventKind.ArtTimeCode, Start + Duration.FromSeconds(at), 1, -1, default, (second / 3600 << 24) | (second / 60 % 60 << 16) | (second % 60 << 8) | frame, type));
    }
}
