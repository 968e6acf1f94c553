using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Analysis.Tests.Locate;

public class SlotHistoryTests
{
    private static readonly UniverseId Universe = new(UniverseProtocol.Sacn, 1);

    [Fact]
    public void Every_level_comes_back_as_it_was_recorded()
    {
        RigRandom random = new(1);
        SlotHistory history = new(Universe, -1, Timestamp.FromUnixNanoseconds(0));
        byte[][] frames = new byte[2000][];
        for (int t = 0; t < frames.Length; t++)
        {
            frames[t] = t == 0 ? new byte[512] : [.. frames[t - 1]];
            for (int i = 0; i < 5; i++)
            {
                frames[t][random.Below(40)] = (byte)random.Below(256);
            }

            history.Record(t, frames[t]);
        }

        for (int slot = 1; slot <= 45; slot++)
        {
            for (int t = 0; t < frames.Length; t += 7)
            {
                Assert.Equal(frames[t][slot - 1], history.LevelAt(slot, t));
            }
        }

        Assert.Equal(frames.Length, history.Samples);
    }

    [Theory]
    [InlineData(254)]
    [InlineData(255)]
    [InlineData(256)]
    [InlineData(100_000)]
    public void A_change_after_a_long_rest_keeps_its_time(int rest)
    {
        SlotHistory history = new(Universe, -1, Timestamp.FromUnixNanoseconds(0));
        history.Record(3, [7]);
        history.Record(3 + rest, [9]);
        Assert.Equal([(3, (byte)7), (3 + rest, (byte)9)], history.Changes(1));
    }

    [Fact]
    public void Within_one_sample_the_later_frame_wins()
    {
        SlotHistory history = new(Universe, -1, Timestamp.FromUnixNanoseconds(0));
        history.Record(Timestamp.FromUnixNanoseconds(1), [10]);
        history.Record(Timestamp.FromUnixNanoseconds(2), [20]);
        Assert.Equal([(1, (byte)20)], history.Changes(1));
    }

    [Fact]
    public void A_frame_is_in_force_from_the_next_sample_on()
    {
        SlotHistory history = new(Universe, -1, Timestamp.FromUnixNanoseconds(0));
        Assert.Equal(0, history.SampleOf(Timestamp.FromUnixNanoseconds(0)));
        Assert.Equal(1, history.SampleOf(Timestamp.FromUnixNanoseconds(1)));
        Assert.Equal(30, history.SampleOf(Timestamp.FromUnixNanoseconds(1_000_000_000)));
        Assert.Equal(0, history.SampleOf(Timestamp.FromUnixNanoseconds(-5)));
    }

    [Fact]
    public void The_analyzer_keeps_a_history_for_each_sender_and_leaves_out_what_is_not_levels()
    {
        SlotHistoryAnalyzer analyzer = new(Timestamp.FromUnixNanoseconds(0));
        Send(analyzer, 0, 0, 0, FrameFlags.None, 0, 11);
        Send(analyzer, 1, 1, 0, FrameFlags.None, 0, 22);
        Send(analyzer, 0, 0, 1, FrameFlags.None, 0xDD, 99);
        Send(analyzer, 0, 0, 2, FrameFlags.Preview, 0, 98);
        Send(analyzer, 0, 0, 3, FrameFlags.Terminated, 0, 97);
        analyzer.OnTime(Timestamp.FromUnixNanoseconds(9_000_000_000));
        Send(analyzer, 1, 1, 4, FrameFlags.None, 0, 23);
        IReadOnlyList<SlotHistory> histories = analyzer.Snapshot();
        Assert.Equal(2, histories.Count);
        Assert.Equal([(0, (byte)11)], histories[0].Changes(1));
        Assert.Equal([(0, (byte)22), (120, (byte)23)], histories[1].Changes(1));
        Assert.Equal(121, histories[0].Samples);
    }

    [Fact]
    public void The_selector_decides_which_frames_are_kept()
    {
        SlotHistoryAnalyzer analyzer = new(null, (in DmxFrame frame) => frame.Sender == 1);
        Send(analyzer, 0, 0, 0, FrameFlags.None, 0, 11);
        Send(analyzer, 1, 1, 1, FrameFlags.None, 0, 22);
        SlotHistory only = Assert.Single(analyzer.Snapshot());
        Assert.Equal(1, only.Sender);
        Assert.Equal(Timestamp.FromUnixNanoseconds(1_000_000_000), only.Start);
    }

    private static void Send(SlotHistoryAnalyzer analyzer, int stream, int sender, int second, FrameFlags flags, byte startCode, byte level) =>
        analyzer.OnFrame(new DmxFrame
        {
            Time = Timestamp.FromUnixNanoseconds(second * 1_000_000_000L),
            Record = 0,
            Universe = Universe,
            UniverseIndex = 0,
            Stream = stream,
            Sender = sender,
            Flags = flags,
            StartCode = startCode,
            Slots = [level],
        });
}
