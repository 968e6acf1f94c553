using System.Text.Json;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Survey;

/// <summary>
/// The short way of senders that run. Whoever asks ends it for all streams, so a survey that is asked after every record never
/// takes it: what it finds must be found by one that is asked at the end alone.
/// </summary>
public class RunningStreamsTests
{
    private static readonly Host One = Host.At("one", "192.0.2.10");
    private static readonly Host Two = Host.At("two", "192.0.2.11");
    private static readonly Host Node = Host.At("node", "192.0.2.20");
    private static readonly byte[] Cid = SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e");
    private static readonly byte[] OtherCid = SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143f");

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Being_asked_after_every_record_changes_nothing(int seed)
    {
        Random random = new(seed);

        // A decoder each: it offers frames that repeat only to an analyzer that is alone.
        RecordDecoder asked = new(), left = new();
        SurveyAnalyzer often = new(), once = new();
        Stream[] streams = [.. Enumerable.Range(0, 6).Select(stream => new Stream(stream, random))];
        InputSummary[] inputs = [new InputSummary { Name = "test", Records = 1, Interfaces = [] }];
        long at = 1_700_000_000_000_000_000;
        for (long number = 1; number <= 2500; number++)
        {
            at += Step(random);
            bool isLoss = random.Next(400) == 0;
            CaptureRecord record = new()
            {
                Number = number,
                Time = Timestamp.FromUnixNanoseconds(at),
                Kind = isLoss ? RecordKind.Loss : RecordKind.Packet,
                InterfaceId = 0,
                LinkType = LinkType.Ethernet,
                LostBefore = random.Next(500) == 0 ? 3 : 0,
                Data = isLoss ? []
                    : random.Next(120) == 0 ? UdpFrames.Build(UdpPath.Unicast(random.Next(2) == 0 ? One : Two, Node, 6454), ArtNetPackets.Sync())
                    : random.Next(120) == 0 ? UdpFrames.Build(UdpPath.ToSacnGroup(One, 9), SacnPackets.Sync(Cid, 9, (byte)(number & 0xFF)))
                    : streams[random.Next(8) switch { 6 => 0, 7 => 1, int n => n }].Next(number),
            };
            asked.Decode(in record, often);
            left.Decode(in record, once);
            if (random.Next(50) == 0)
            {
                often.OnTime(record.Time);
                once.OnTime(record.Time);
            }

            _ = often.Snapshot(asked, inputs);
            if (random.Next(500) == 0)
            {
                Assert.Equal(Text(often.Snapshot(asked, inputs)), Text(once.Snapshot(left, inputs)));
            }
        }

        often.OnTime(Timestamp.FromUnixNanoseconds(at));
        once.OnTime(Timestamp.FromUnixNanoseconds(at));
        SurveySnapshot found = once.Snapshot(left, inputs);
        Assert.Equal(Text(often.Snapshot(asked, inputs)), Text(found));
        Assert.Equal(5, found.Universes.Count);
        Assert.All(found.Universes, universe => Assert.True(universe.Frames > 150, $"{universe.Id} has {universe.Frames} frames only"));
    }

    // Mostly the steady flow of a show; keep-alives, gaps, losses of the stream, steps back of the clock in between.
    private static long Step(Random random) => random.Next(300) switch
    {
        0 => 300_000_000,
        1 => 120_000_000,
        2 => 3_000_000_000,
        3 => -5_000_000,
        4 => 11_000_000_000,
        _ => random.Next(0, 6_000_000),
    };

    private static string Text(SurveySnapshot snapshot) => JsonSerializer.Serialize(snapshot);

    private sealed class Stream(int kind, Random random)
    {
        private byte _sequence;
        private byte[] _slots = new byte[64];

        public byte[] Next(long number)
        {
            _sequence = random.Next(80) switch
            {
                0 => unchecked((byte)(_sequence + 3)),
                1 => _sequence,
                2 => unchecked((byte)(_sequence - 2)),
                3 => unchecked((byte)(_sequence - 60)),
                _ => unchecked((byte)(_sequence + 1)),
            };
            if (random.Next(4) == 0)
            {
                _slots[random.Next(_slots.Length)] = (byte)random.Next(256);
            }

            if (random.Next(150) == 0)
            {
                _slots = new byte[random.Next(1, 33) * 2];
            }

            int odd = random.Next(60);
            int identification = (int)(number & 0xFFFF);
            return kind switch
            {
                0 or 1 or 2 => UdpFrames.Build(
                    UdpPath.ToSacnGroup(kind == 2 ? Two : One, kind == 2 ? 1 : kind + 1),
                    SacnPackets.Data(
                        kind == 2 ? OtherCid : Cid,
                        "one",
                        kind == 2 ? 1 : kind + 1,
                        _sequence,
                        _slots,
                        priority: odd == 1 ? 120 : kind == 2 ? 90 : 100,
                        syncAddress: odd == 2 ? 9 : 0,
                        options: odd == 3 ? SacnPackets.StreamTerminated : odd == 4 ? SacnPackets.PreviewData : 0,
                        startCode: odd == 5 ? 0xDD : odd == 6 ? 0x17 : 0),
                    identification),
                3 or 4 => UdpFrames.Build(
                    odd == 7 ? UdpPath.Unicast(Two, Node, 6454) : UdpPath.Unicast(One, Node, 6454),
                    odd == 8 ? ArtNetPackets.Nzs(kind, _sequence, 0x17, _slots) : ArtNetPackets.Dmx(kind, odd == 9 ? 0 : _sequence, _slots),
                    identification),
                _ => UdpFrames.Build(
                    UdpPath.Unicast(Two, Node, 5568), SacnPackets.Data(OtherCid, "two", 7, _sequence, _slots), odd == 1 ? 0 : identification),
            };
        }
    }
}
