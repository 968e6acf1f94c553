using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate.Ask;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Locate.Ask;

public class LatestLevelsTests
{
    private static readonly UniverseId One = new(UniverseProtocol.Sacn, 1);
    private static readonly Timestamp Start = Timestamp.FromUnixNanoseconds(1_773_500_000_000_000_000);

    [Fact]
    public void The_levels_are_those_of_the_latest_frame_and_a_universe_that_was_not_heard_has_none()
    {
        LatestLevels levels = new();
        Assert.Null(levels.Of(One));
        Assert.Equal(0, levels.Deciding(One));
        Feed(levels, 0, 0, 100, 10, 20);
        Feed(levels, 1, 0, 100, 11, 0);
        Assert.Equal([11, 0, 0], levels.Of(One)!.Take(3));
        Assert.Null(levels.Of(One with { Number = 2 }));
    }

    [Fact]
    public void A_sender_that_fell_silent_counts_no_more()
    {
        LatestLevels levels = new();
        Feed(levels, 0, 0, 100, 10);
        levels.OnTime(Start + Duration.FromSeconds(10));
        Assert.NotNull(levels.Of(One));
        levels.OnTime(Start + Duration.FromSeconds(10.1));
        Assert.Null(levels.Of(One));
    }

    [Fact]
    public void Of_two_senders_the_higher_priority_counts_and_of_equals_the_higher_level()
    {
        LatestLevels levels = new();
        Feed(levels, 0, 0, 100, 10, 200);
        Feed(levels, 0, 1, 100, 50, 20);
        Assert.Equal([50, 200], levels.Of(One)!.Take(2));
        Assert.Equal(2, levels.Deciding(One));
        Feed(levels, 1, 1, 120, 50, 20);
        Assert.Equal(1, levels.Deciding(One));
        Assert.Equal([50, 20], levels.Of(One)!.Take(2));
        Feed(levels, 2, 1, 120, FrameFlags.Terminated);
        Assert.Equal([10, 200], levels.Of(One)!.Take(2));
    }

    // sACN: 2.5 s without a packet, or the sender says that it ends (E1.31 6.7.1).
    [Fact]
    public void A_universe_fell_silent_where_it_was_heard_and_every_sender_ended_or_was_lost()
    {
        LatestLevels levels = new();
        levels.OnTime(Start + Duration.FromSeconds(60));
        Assert.False(levels.FellSilent(One)); // never heard
        Feed(levels, 60, 0, 100, 10);
        levels.OnTime(Start + Duration.FromSeconds(62.5));
        Assert.False(levels.FellSilent(One));
        levels.OnTime(Start + Duration.FromSeconds(62.6));
        Assert.True(levels.FellSilent(One));
        Feed(levels, 63, 1, 100, 10);
        Assert.False(levels.FellSilent(One));
        Feed(levels, 63.1, 1, 100, FrameFlags.Terminated);
        Assert.True(levels.FellSilent(One));
    }

    private static void Feed(LatestLevels levels, double seconds, int stream, byte priority, params byte[] slots) => Feed(levels, seconds, stream, priority, FrameFlags.None, slots);

    private static void Feed(LatestLevels levels, double seconds, int stream, byte priority, FrameFlags flags, params byte[] slots)
    {
        DmxFrame frame = new()
        {
            Time = Start + Duration.FromSeconds(seconds),
            Record = 0,
            Universe = One,
            Stream = stream,
            Sender = stream,
            UniverseIndex = 0,
            Priority = priority,
            Flags = flags,
            Slots = slots,
        };
        levels.OnFrame(in frame);
    }
}
