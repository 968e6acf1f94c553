using System.Text.Json;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Explain;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Universes;
using DmxProbe.Analysis.Walk;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>What the screen follows comes to the same by repeats as by whole frames.</summary>
public sealed class ShortWayTests
{
    private const int Streams = 4;
    private const int Frames = 4000;
    private static readonly FrameFlags[] Flags = [FrameFlags.None, FrameFlags.Preview, FrameFlags.Terminated, FrameFlags.SlotsCut, FrameFlags.Damaged];

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Ages_rates_histories_units_and_moves_are_the_same_by_the_short_way(int seed)
    {
        Followers whole = new(), quick = new();
        FanOut together = new(quick.All);
        int repeats = 0;
        Play(seed, (in DmxFrame frame, bool repeats) => Feed(whole.All, in frame), null);
        Play(seed, (in DmxFrame frame, bool same) =>
        {
            if (same)
            {
                repeats++;
                Assert.True(together.TryRepeat(frame.Stream, frame.Time, frame.Sequence, frame.Print, frame.Slots));
            }
            else
            {
                together.OnFrame(in frame);
            }
        }, null);

        Assert.True(together.TakesEveryRepeat);
        Assert.InRange(repeats, Frames / 2, Frames);
        Assert.InRange(whole.Told().Length, 10_000, int.MaxValue);
        Assert.Equal(whole.Told(), quick.Told());
    }

    [Fact]
    public void Who_begins_in_the_middle_is_given_frames_made_of_repeats()
    {
        // It has never seen the head of a frame, only what followed.
        Late late = new();
        WholeFrames whole = new(late);
        Play(4, (in DmxFrame frame, bool same) =>
        {
            late.Expected = (frame.Universe, frame.Sender, frame.StartCode, frame.Flags, frame.Priority, frame.SyncAddress, frame.Host, frame.Sequence, frame.Slots.Length);
            if (same)
            {
                Assert.True(whole.TryRepeat(frame.Stream, frame.Time, frame.Sequence, frame.Print, frame.Slots));
            }
            else
            {
                whole.OnFrame(in frame);
            }
        }, () => late.Listens = true);
        Assert.InRange(late.Heard, Frames / 3, Frames);
    }

    private delegate void Sent(in DmxFrame frame, bool repeats);

    private static void Feed(IAnalyzer[] all, in DmxFrame frame)
    {
        foreach (IAnalyzer analyzer in all)
        {
            analyzer.OnFrame(in frame);
        }
    }

    // Nearly always a sender repeats its packet with other levels; now and then one of another START code, with a flag, with
    // fewer slots. A repeat is what the decoder calls one: all but time, number, print and levels are as before.
    private static void Play(int seed, Sent sent, Action? half)
    {
        Random random = new(seed);
        byte[][] levels = [.. Enumerable.Range(0, Streams).Select(_ => new byte[512])];
        (byte Code, FrameFlags Flags, int Slots)[] before = new (byte, FrameFlags, int)[Streams];
        long time = 1_000_000_000_000;
        for (int frame = 0; frame < Frames; frame++)
        {
            int stream = random.Next(Streams);
            (byte Code, FrameFlags Flags, int Slots) head = before[stream];
            if (head.Slots == 0 || random.Next(8) == 0)
            {
                head = (random.Next(4) == 0 ? (byte)0xDD : (byte)0, random.Next(3) == 0 ? Flags[random.Next(Flags.Length)] : FrameFlags.None, random.Next(4) == 0 ? random.Next(1, 513) : 512);
            }

            for (int changes = random.Next(3) == 0 ? 0 : random.Next(30) == 0 ? 400 : random.Next(6); changes > 0; changes--)
            {
                levels[stream][random.Next(512)] = (byte)random.Next(256);
            }

            time += random.Next(1, 40_000_000);
            if (frame == Frames / 2)
            {
                half?.Invoke();
            }

            sent(
                new DmxFrame
                {
                    Time = Timestamp.FromUnixNanoseconds(time),
                    Record = frame,
                    Universe = Universe(stream),
                    UniverseIndex = stream / 2,
                    Stream = stream,
                    Sender = stream % 2,
                    StartCode = head.Code,
                    Flags = head.Flags,
                    Priority = 90,
                    SyncAddress = 7,
                    Host = 3,
                    Sequence = unchecked((byte)frame),
                    Slots = levels[stream].AsSpan(0, head.Slots),
                },
                head == before[stream]);
            before[stream] = head;
        }
    }

    private static UniverseId Universe(int stream) => new(UniverseProtocol.Sacn, (ushort)(1 + (stream / 2)));

    private sealed class Followers
    {
        private static readonly ChartMode Mode = Read();
        private static readonly TracedUnit[] Traced =
        [
            .. Enumerable.Range(0, 12).Select(unit => new TracedUnit(
                new PatchUnit($"U{unit}", "x", "m", 1 + (unit % 2), 1 + (40 * unit), "", "", "", [], "", 3), Mode, new HashSet<UniverseId> { Universe(2 * (unit % 2)) })),
        ];

        private readonly RecentAnalyzer _recent = new();
        private readonly LevelLogAnalyzer _log = new(new HashSet<UniverseId> { Universe(2) });
        private readonly UnitTraceSet _units = new(Traced);
        private readonly WalkAnalyzer _walk = new([.. Traced.Select(unit => new WalkTarget(unit.Unit, unit.Universes.First(), Mode, 3))]);

        public Followers() => All = [_recent, _log, _units, new WholeFrames(_walk)];

        public IAnalyzer[] All { get; }

        public string Told()
        {
            Timestamp now = Timestamp.FromUnixNanoseconds(1_090_000_000_000);
            return JsonSerializer.Serialize(new
            {
                Recent = Enumerable.Range(0, Streams).Select(stream => _recent.Snapshot(stream, now)),
                Log = Enumerable.Range(0, Streams).Select(stream => _log.Snapshot(stream, 1, 512, now)),
                Units = Traced.Select(unit => _units.Explain(unit.Unit.Unit, unit.Universes.First(), Describe, [], now)!.Senders.Select(view => (view.Last.ToString(), view.Slots.Select(slot => (slot.Value, slot.Previous, slot.Changed.ToString(), slot.MeaningSince.ToString(), slot.Changes).ToString())))).Select(each => string.Join(';', each.Select(view => view.Item1 + string.Join(',', view.Item2)))),
                Moves = _walk.Snapshot().Moves.Select(move => (move.From.ToString(), move.To.ToString(), move.Universe.Label, move.Sender, move.Slot, move.First, move.Last, move.Kind, move.Others).ToString()),
            });
        }

        private static SenderSummary Describe(int sender) =>
            new() { Index = sender, Protocol = UniverseProtocol.Sacn, Name = $"S{sender}", Address = "10.0.0.1", Addresses = [] };

        private static ChartMode Read()
        {
            using StringReader text = new("mode,slot,function,from,to,meaning\nm,1,Dimmer,0,255,0-100%\nm,2,Red,0,255,\nm,3,Shutter,0,9,closed\nm,3,Shutter,10,255,open\n");
            return ChartReader.Read("x", text).Chart!.Modes[0];
        }
    }

    private sealed class Late : IAnalyzer
    {
        public bool Listens { get; set; }

        public int Heard { get; private set; }

        public (UniverseId, int, byte, FrameFlags, byte, ushort, uint, byte, int) Expected { get; set; }

        public void OnFrame(in DmxFrame frame)
        {
            if (Listens)
            {
                Heard++;
                Assert.Equal(Expected, (frame.Universe, frame.Sender, frame.StartCode, frame.Flags, frame.Priority, frame.SyncAddress, frame.Host, frame.Sequence, frame.Slots.Length));
            }
        }

        public void OnEvent(in LinkEvent linkEvent)
        {
        }

        public void OnTime(Timestamp now)
        {
        }
    }
}
