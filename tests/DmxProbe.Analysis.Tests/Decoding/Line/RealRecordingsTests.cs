using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Decoding.Line;

// Real lines against an independent edge reader's frames.json, itself held there against a general UART decoder.
public class RealRecordingsTests
{
    [SkippableTheory]
    [MemberData(nameof(SharedLine.All), MemberType = typeof(SharedLine))]
    public void Every_break_mark_and_slot_is_that_of_the_independent_reader(string name, long rate, long ticksPerSecond)
    {
        using SharedLine? source = SharedLine.Open(name, rate, ticksPerSecond);
        Skip.If(source is null, Places.NoShared);
        LineRun run = LineRun.Of(source);
        var expected = SharedLine.Reference(name);

        Assert.Equal(expected.Count, run.Frames.Count);
        Assert.Equal(LineChannelUse.Decoded, run.Channels[0].Use);
        Assert.Equal(LineChannelUse.OtherLeg, run.Channels[1].Use);
        Assert.Equal(LinePolarity.MarkHigh, run.Channels[0].Polarity);
        Assert.Equal(0, run.Channels[0].FramingErrors);
        for (int i = 0; i < expected.Count; i++)
        {
            Assert.Equal(expected[i].BreakStart, run.Timings[i].Time.UnixNanoseconds / 1e3, 0.01);
            Assert.Equal(expected[i].Break, run.Timings[i].Break, 0.01);
            Assert.Equal(expected[i].Mab, run.Timings[i].MarkAfterBreak, 0.01);
            Assert.Equal(expected[i].StartCode, run.Frames[i].StartCode);
            Assert.Equal(expected[i].Slots, run.Frames[i].Slots);
        }

        // The last packet of each recording is the one that its end cuts.
        Assert.All(run.Timings.SkipLast(1), timing => Assert.False(timing.IsCut));
        Assert.Equal(run.Frames[^1].Slots.Length < 512, run.Timings[^1].IsCut);
    }
}
