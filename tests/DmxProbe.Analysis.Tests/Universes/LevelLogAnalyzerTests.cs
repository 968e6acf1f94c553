using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Universes;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Universes;

public sealed class LevelLogAnalyzerTests
{
    private static readonly UniverseId Universe = new(UniverseProtocol.Sacn, 1);

    [Fact]
    public void Each_second_shows_the_level_at_its_start_and_a_keep_alive_holds()
    {
        LevelLogAnalyzer log = new(new HashSet<UniverseId> { Universe });
        Feed(log, 0.0, 10);
        Feed(log, 0.5, 11);
        Feed(log, 1.2, 12);
        Feed(log, 3.2, 14);
        IReadOnlyList<int> levels = log.Snapshot(0, 2, 1, At(4))[0];
        Assert.Equal([-1, 10, 12, 12, 14, 14], levels.Skip(LevelLogAnalyzer.Seconds - 6));
    }

    [Fact]
    public void A_silent_sender_is_shown_as_nothing_and_old_seconds_are_forgotten()
    {
        LevelLogAnalyzer log = new(new HashSet<UniverseId> { Universe });
        Feed(log, 0, 10);
        Assert.Equal(-1, log.Snapshot(0, 2, 1, At(10))[0][^1]);
        Assert.All(log.Snapshot(0, 2, 1, At(200))[0], level => Assert.Equal(-1, level));
        Feed(log, 200, 20);
        Assert.Equal(1, log.Snapshot(0, 2, 1, At(200))[0].Count(level => level >= 0));
    }

    [Fact]
    public void Slots_that_are_not_sent_and_streams_that_are_not_kept_show_nothing()
    {
        LevelLogAnalyzer log = new(new HashSet<UniverseId> { Universe });
        Feed(log, 0, 10);
        Assert.Equal([10, -1, -1], log.Snapshot(0, 2, 3, At(0)).Select(slot => slot[^1]));
        Assert.Equal(-1, log.Snapshot(7, 1, 1, At(0))[0][^1]);
        Assert.Equal(2, log.Snapshot(0, 512, 2, At(0)).Count);
    }

    private static Timestamp At(double seconds) => Timestamp.FromUnixNanoseconds(1_000_000_000_000) + Duration.FromSeconds(seconds);

    private static void Feed(LevelLogAnalyzer log, double seconds, byte level) => log.OnFrame(new DmxFrame
    {
        Time = At(seconds),
        Record = 1,
        Universe = Universe,
        Stream = 0,
        Sender = 0,
        UniverseIndex = 0,
        Slots = [0, level],
    });
}
