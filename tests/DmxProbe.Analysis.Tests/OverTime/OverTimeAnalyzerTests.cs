using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.OverTime;
using DmxProbe.Analysis.Tests.Network;
using DmxProbe.Testing.Network;

namespace DmxProbe.Analysis.Tests.OverTime;

/// <summary>A recording span by span, against what was put on the wire.</summary>
public class OverTimeAnalyzerTests
{
    [Fact]
    public void Frames_are_counted_in_the_span_in_which_they_came()
    {
        OverTimeSnapshot show = Run(new FrameSource().Every(0, 2, 0.1, i => Wire.Sacn(i)));
        StreamOverTime stream = Assert.Single(show.Streams);
        Assert.Equal(0.5, show.Width.TotalSeconds);
        Assert.Equal([5, 5, 5, 5], stream.Frames);
        Assert.Equal(10, stream.Frames[1] / show.Seconds(1), 6);
    }

    [Fact]
    public void What_the_sequence_misses_is_lost_in_the_span_of_the_frame_behind_it()
    {
        // Numbers 12 to 14 are missing: found out when 15 comes, at 1.2 s.
        OverTimeSnapshot show = Run(new FrameSource().Every(0, 2, 0.1, i => Wire.Sacn(i < 12 ? i : i + 3)));
        Assert.Equal([0, 0, 3, 0], Assert.Single(show.Streams).Lost);
    }

    [Fact]
    public void Each_sender_stands_by_itself()
    {
        byte[] other = [.. Enumerable.Repeat((byte)7, 16)];
        OverTimeSnapshot show = Run(new FrameSource().Every(0, 1, 0.1, i => Wire.Sacn(i)).Every(0.05, 1, 0.25, i => Wire.Sacn(i, cid: other)));
        Assert.Equal([10, 4], show.Streams.Select(stream => stream.Frames.Sum()));
        Assert.Equal(2, show.Streams.Select(stream => stream.Sender.Cid).Distinct().Count());
    }

    [Fact]
    public void Nothing_is_lost_or_counted_twice_when_spans_become_one()
    {
        OverTimeSnapshot show = Run(new FrameSource().Every(0, 500, 0.5, i => Wire.Sacn(i)));
        StreamOverTime stream = Assert.Single(show.Streams);
        Assert.Equal(4.0, show.Width.TotalSeconds);
        Assert.Equal(1_000, stream.Frames.Sum());
        Assert.All(stream.Frames.Take(show.Bins - 1), frames => Assert.Equal(8, frames));
    }

    [Fact]
    public void A_slot_holds_its_level_through_spans_without_frames()
    {
        // The levels of a frame follow from its number: the same number, the same levels.
        FrameSource source = new FrameSource().At(0, Wire.Sacn(1)).At(0.1, Wire.Sacn(2)).At(3, Wire.Sacn(2)).At(5, Wire.Sacn(9));
        SlotOverTimeAnalyzer slots = new(new UniverseId(UniverseProtocol.Sacn, 1), 1, 512);
        RecordDecoder decoder = new();
        new Session(source, decoder, slots).Run(default);
        IReadOnlyList<SlotOverTime> found = slots.Snapshot(decoder.Senders);
        Assert.NotEmpty(found);
        Assert.Equal(11, slots.Bins.Count);
        Assert.Contains(found, slot => slot.Lowest[0] != slot.Highest[0]);
        foreach (SlotOverTime slot in found)
        {
            // Span 0 has both frames; 1 to 9 hold the second one's level, whether a frame came or not.
            int?[] held = [.. slot.Lowest.Skip(1).Take(9)];
            Assert.Single(held.Distinct());
            Assert.Equal(held, slot.Highest.Skip(1).Take(9));
            Assert.Contains(held[0], new[] { slot.Lowest[0], slot.Highest[0] });
        }
    }

    [Fact]
    public void Another_universe_moves_the_spans_on_and_gives_no_level()
    {
        FrameSource source = new FrameSource().Every(0, 2, 0.1, i => Wire.Sacn(i, universe: 2));
        SlotOverTimeAnalyzer slots = new(new UniverseId(UniverseProtocol.Sacn, 1), 1, 4);
        RecordDecoder decoder = new();
        new Session(source, decoder, slots).Run(default);
        Assert.Empty(slots.Snapshot(decoder.Senders));
        Assert.Equal(4, slots.Bins.Count);
    }

    private static OverTimeSnapshot Run(FrameSource source)
    {
        RecordDecoder decoder = new();
        OverTimeAnalyzer analyzer = new();
        new Session(source, decoder, analyzer).Run(default);
        return analyzer.Snapshot(decoder.Senders);
    }
}
