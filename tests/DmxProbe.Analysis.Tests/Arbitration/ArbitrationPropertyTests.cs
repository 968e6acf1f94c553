using System.Globalization;
using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Universes;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Measuring;

namespace DmxProbe.Analysis.Tests.Arbitration;

/// <summary>What must hold for any traffic.</summary>
public sealed class ArbitrationPropertyTests
{
    [Theory]
    [InlineData(UniverseProtocol.Sacn)]
    [InlineData(UniverseProtocol.ArtNet)]
    public void Nothing_depends_on_how_often_time_is_told_or_on_being_asked(UniverseProtocol protocol)
    {
        for (int seed = 0; seed < 40; seed++)
        {
            string quiet = Run(protocol, seed, tells: false, asks: false);
            Assert.Equal(quiet, Run(protocol, seed, tells: true, asks: false));
            Assert.Equal(quiet, Run(protocol, seed, tells: true, asks: true));
        }
    }

    [Fact]
    public void A_flood_of_senders_does_not_grow_and_does_not_hide_the_strongest()
    {
        ArbitrationAnalyzer analyzer = new();
        byte[] slots = new byte[512];
        for (int i = 0; i < 4000; i++)
        {
            analyzer.OnFrame(Frame(UniverseProtocol.Sacn, 0, i, i * 1_000L, slots, priority: 1 + (i % 50)));
        }

        analyzer.OnFrame(Frame(UniverseProtocol.Sacn, 0, 4001, 4_000_000, slots, priority: 200));
        analyzer.OnTime(Timestamp.FromUnixNanoseconds(4_000_001));
        SlotAnswer answer = analyzer.Ask(0, 1)!;
        Assert.InRange(answer.Contenders.Count, 1, 64);
        Assert.Equal([4001], answer.Cases[0].Senders);
        Assert.InRange(analyzer.Snapshot(0)!.Changes.Count, 1, 512);
    }

    [Theory]
    [InlineData(1, 0, false)]
    [InlineData(2, 0, false)]
    [InlineData(2, 7, false)]
    [InlineData(2, 0, true)]
    public void Nothing_is_allocated_for_a_frame(int senders, int sync, bool isArtNet)
    {
        UniverseProtocol protocol = isArtNet ? UniverseProtocol.ArtNet : UniverseProtocol.Sacn;
        LevelAnalyzer levels = new();
        ArbitrationAnalyzer analyzer = new(levels) { Follow = id => senders == 2 && sync == 0 };
        byte[] slots = new byte[512];
        long at = 0;
        int count = 0;
        Assert.Equal(0, Allocations.Least(() =>
        {
            for (int i = 0; i < 2000; i++)
            {
                at += 1_000_000;
                count++;
                slots[count % 512]++;
                DmxFrame frame = Frame(protocol, 0, count % senders, at, slots, priority: 100, sequence: count / senders, sync: (ushort)sync);
                levels.OnFrame(in frame);
                analyzer.OnFrame(in frame);
                if (sync != 0 && i % 4 == 0)
                {
                    analyzer.OnEvent(new LinkEvent(LinkEventKind.SacnSync, Timestamp.FromUnixNanoseconds(at), count, 0, default, sync, 0));
                }
            }
        }));
    }

    // Random traffic of up to four senders on one universe; what came of it, in words.
    private static string Run(UniverseProtocol protocol, int seed, bool tells, bool asks)
    {
        Random random = new(seed);
        ArbitrationAnalyzer analyzer = new() { Follow = _ => seed % 2 == 0 };
        long at = 0;
        byte[] slots = new byte[16];
        int[] sequences = new int[4];
        for (int i = 0; i < 300; i++)
        {
            at += random.Next(1, 10) == 1 ? random.NextInt64(1_000_000_000, 14_000_000_000) : random.NextInt64(1_000_000, 400_000_000);
            Timestamp time = Timestamp.FromUnixNanoseconds(at);
            if (tells)
            {
                analyzer.OnTime(time);
            }

            int sender = random.Next(4);
            int kind = random.Next(20);
            random.NextBytes(slots);
            if (kind == 0)
            {
                LinkEventKind what = (LinkEventKind[])[LinkEventKind.SacnSync, LinkEventKind.ArtSync, LinkEventKind.CaptureLoss, LinkEventKind.ArtMergeCommand, LinkEventKind.ArtOutput] is { } kinds ? kinds[random.Next(kinds.Length)] : default;
                (long a, long b) = what switch
                {
                    LinkEventKind.SacnSync => (7, 0),
                    LinkEventKind.ArtSync => (1 + random.Next(2), 0),
                    LinkEventKind.CaptureLoss => (1, 1),
                    LinkEventKind.ArtMergeCommand => (new[] { 1, 0x10, 0x50 }[random.Next(3)], (9 * 256) + 1),
                    _ => (random.Next(2), ((9 * 256) + 1) * 4),
                };
                analyzer.OnEvent(new LinkEvent(what, time, i, -1, new UniverseId(UniverseProtocol.ArtNet, 0), a, b));
            }
            else
            {
                FrameFlags flags = kind switch
                {
                    1 => FrameFlags.Terminated,
                    2 => FrameFlags.Preview,
                    3 => FrameFlags.SlotsCut,
                    4 => FrameFlags.ForceSynchronization,
                    _ => FrameFlags.None,
                };
                analyzer.OnFrame(Frame(
                    protocol, 0, sender, at, slots.AsSpan(0, kind == 5 ? 7 : 16), 90 + (10 * random.Next(3)), ++sequences[sender],
                    (ushort)(random.Next(8) == 0 ? 7 : 0), flags, kind is 6 or 7 ? (byte)0xDD : kind == 8 ? (byte)0x17 : (byte)0, (uint)(1 + (sender / 2))));
            }

            if (asks)
            {
                _ = analyzer.Ask(0, 1 + random.Next(1), 20);
                _ = analyzer.Snapshot(0);
            }
            else
            {
                _ = random.Next(1);
            }
        }

        analyzer.OnTime(Timestamp.FromUnixNanoseconds(at + 1_000_000_000));
        UniverseArbitration told = analyzer.Snapshot(0)!;
        string answers = string.Join('\n', analyzer.Ask(0, 1, 20).Select(answer => string.Join(';', answer.Cases.Select(each => $"{each.Condition} {string.Join('+', each.Senders)} {each.Rule} {each.Value} {each.Since} {each.Moved}"))));
        return string.Create(CultureInfo.InvariantCulture, $"{string.Join('\n', told.Changes.Select(change => $"{change.Time} {change.FromSlot} {change.ToSlot} {change.Condition} {string.Join('+', change.Before)}>{string.Join('+', change.After)} {change.Cause}"))}\n{string.Join('\n', told.Obeyed.Select(span => $"{span.From} {span.To} {string.Join('+', span.Senders)}"))}\n{answers}");
    }

    private static DmxFrame Frame(
        UniverseProtocol protocol,
        int universe,
        int sender,
        long at,
        ReadOnlySpan<byte> slots,
        int priority = 100,
        int sequence = 1,
        ushort sync = 0,
        FrameFlags flags = FrameFlags.None,
        byte startCode = 0,
        uint host = 1) => new()
        {
            Time = Timestamp.FromUnixNanoseconds(at),
            Record = 1,
            Universe = new UniverseId(protocol, universe),
            UniverseIndex = universe,
            Stream = sender,
            Sender = sender,
            Priority = (byte)priority,
            Sequence = unchecked((byte)sequence),
            SyncAddress = protocol == UniverseProtocol.Sacn ? sync : (ushort)0,
            StartCode = startCode,
            Flags = flags,
            Host = host,
            Slots = slots,
        };
}
