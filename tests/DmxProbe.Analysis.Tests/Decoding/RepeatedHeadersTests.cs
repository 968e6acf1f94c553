using System.Net;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>
/// The short way of packets whose headers repeat must find what the long way finds. Without its Ethernet header a packet
/// never goes the short way, so the same packets are decoded both with and without one.
/// </summary>
public class RepeatedHeadersTests
{
    private const int LinkHeader = 14;
    private const int SacnHeaders = 42 + 126;

    private static readonly Host One = Host.At("one", "192.0.2.10");
    private static readonly Host Two = Host.At("two", "192.0.2.11");
    private static readonly Host Node = Host.At("node", "192.0.2.20");
    private static readonly byte[] Cid = SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e");
    private static readonly byte[] OtherCid = SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143f");

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Any_mix_of_packets_gives_what_the_long_way_gives(int seed)
    {
        Random random = new(seed);
        Log both = new(LinkType.Ethernet), longWay = new(LinkType.Raw);
        byte[] sequences = new byte[8];
        byte[] packet = [];
        for (int n = 0; n < 20_000; n++)
        {
            // Mostly the next packet of a few streams, now and then one that is odd in any way.
            packet = random.Next(20) == 0 ? Odd(random, n, sequences) : Usual(random.Next(6), n, sequences);
            for (int changes = random.Next(12) == 0 ? random.Next(1, 4) : 0; changes > 0; changes--)
            {
                packet[random.Next(LinkHeader, packet.Length)] ^= (byte)(1 << random.Next(8));
            }

            byte[] captured = random.Next(50) == 0 ? packet[..random.Next(LinkHeader, packet.Length)] : packet;
            both.Take(captured, packet.Length);
            longWay.Take(captured[LinkHeader..], packet.Length - LinkHeader);
        }

        Assert.Equal(longWay.Lines.Count, both.Lines.Count);
        Assert.Equal(longWay.Lines, both.Lines);
        Assert.Equal(longWay.Counted, both.Counted);
        Assert.InRange(both.Lines.Count, 15_000, 60_000);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Every_octet_of_the_headers_is_looked_at(bool artNet)
    {
        byte[] sequences = new byte[8];
        byte[] known = artNet ? Usual(3, 1, sequences) : Usual(0, 1, sequences);
        int headers = artNet ? 42 + 18 : SacnHeaders;
        for (int at = LinkHeader; at < headers; at++)
        {
            Log both = new(LinkType.Ethernet), longWay = new(LinkType.Raw);
            byte[] changed = [.. known];
            changed[at] ^= 0x11;
            foreach (byte[] packet in (byte[][])[known, changed, known, known])
            {
                both.Take(packet, packet.Length);
                longWay.Take(packet[LinkHeader..], packet.Length - LinkHeader);
            }

            Assert.Equal(longWay.Lines, both.Lines);
            Assert.Equal(longWay.Counted, both.Counted);
        }
    }

    [Fact]
    public void A_repeated_packet_is_read_at_every_cut_length()
    {
        byte[] known = Usual(0, 1, new byte[8]);
        for (int length = LinkHeader; length < known.Length; length++)
        {
            Log both = new(LinkType.Ethernet), longWay = new(LinkType.Raw);
            foreach (byte[] packet in (byte[][])[known, known[..length], known])
            {
                both.Take(packet, known.Length);
                longWay.Take(packet[LinkHeader..], known.Length - LinkHeader);
            }

            Assert.Equal(longWay.Lines, both.Lines);
            Assert.Equal(longWay.Counted, both.Counted);
        }
    }

    // One packet seen at two interfaces of a capture is not a repeated one.
    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    public void A_packet_of_another_interface_goes_the_long_way(int stream)
    {
        byte[] sequences = new byte[8];
        Log both = new(LinkType.Ethernet), longWay = new(LinkType.Raw);
        for (int n = 0; n < 12; n++)
        {
            byte[] packet = Usual(stream, n, sequences);
            both.Take(packet, packet.Length, n / 3 % 2);
            longWay.Take(packet[LinkHeader..], packet.Length - LinkHeader, n / 3 % 2);
        }

        Assert.Equal(12, both.Lines.Count);
        Assert.Equal(longWay.Lines, both.Lines);
        Assert.Equal(longWay.Counted, both.Counted);
    }

    private static byte[] Usual(int stream, int n, byte[] sequences)
    {
        byte next = unchecked(++sequences[stream]);
        byte[] slots = [(byte)(n & 0xFF), (byte)stream, .. new byte[30]];
        return stream switch
        {
            0 => Sacn(One, Cid, 1, next, slots, n),
            1 => Sacn(One, Cid, 2, next, slots, n),
            2 => Sacn(Two, OtherCid, 1, next, slots, n, priority: 120),
            3 => Art(One, ArtNetPackets.Dmx(1, Math.Max((int)next, 1), slots), n),
            4 => Art(Two, ArtNetPackets.Dmx(1, Math.Max((int)next, 1), slots), n),
            _ => UdpFrames.Build(UdpPath.Unicast(Two, Node, 5568), SacnPackets.Data(OtherCid, "two", 7, next, slots), n & 0xFFFF),
        };
    }

    private static byte[] Odd(Random random, int n, byte[] sequences)
    {
        byte[] slots = [(byte)(n & 0xFF), 5, 6, 7];
        byte next = sequences[0];
        return random.Next(14) switch
        {
            0 => Sacn(One, Cid, 1, next + 1, slots, n),
            1 => Sacn(One, Cid, 1, next, [.. slots, .. new byte[28]], n, startCode: 0xDD),
            2 => Sacn(One, Cid, 1, next + 3, new byte[32], n, options: SacnPackets.StreamTerminated),
            3 => Sacn(Two, Cid, 1, next + 1, new byte[32], n),
            4 => UdpFrames.Build(UdpPath.ToSacnGroup(One, 1, ipv6: true), SacnPackets.Data(Cid, "one", 1, next, new byte[32])),
            5 => UdpFrames.Build(UdpPath.ToSacnGroup(One, 1), SacnPackets.Draft(Cid, "one", 1, next, new byte[32]), n & 0xFFFF),
            6 => Art(One, ArtNetPackets.Nzs(1, 7, 0x17, slots), n),
            7 => Art(One, ArtNetPackets.Dmx(1, 0, [.. slots, .. new byte[28]]), n),
            8 => Art(One, ArtNetPackets.Dmx(1, 9, [.. slots, 1]), n),
            9 => UdpFrames.Build(UdpPath.Broadcast(One, IPAddress.Parse("192.0.2.255"), 6454), ArtNetPackets.Dmx(1, 9, new byte[32]), n & 0xFFFF),
            10 => UdpFrames.Build(UdpPath.ToSacnGroup(One, 3), SacnPackets.Data(Cid, "one", 1, (next + 1) & 0xFF, new byte[32]), n & 0xFFFF),
            11 => Sacn(One, Cid, 1, next + 1, new byte[32], n, priority: 201),
            12 => UdpFrames.Build(UdpPath.ToSacnGroup(One, 1) with { Checksum = false }, SacnPackets.Data(Cid, "other", 1, (next + 1) & 0xFF, new byte[32])),
            _ => Sacn(One, Cid, 1, next + 1, new byte[32], n, syncAddress: 9),
        };
    }

    private static byte[] Sacn(
        Host from, byte[] cid, int universe, int sequence, byte[] slots, int n, int priority = 100, int syncAddress = 0, int options = 0, int startCode = 0) =>
        UdpFrames.Build(
            UdpPath.ToSacnGroup(from, universe),
            SacnPackets.Data(cid, from.Name, universe, sequence & 0xFF, slots, priority, syncAddress, options, startCode),
            n & 0xFFFF);

    private static byte[] Art(Host from, byte[] payload, int n) => UdpFrames.Build(UdpPath.Unicast(from, Node, 6454), payload, n & 0xFFFF);

    /// <summary>Everything a decoder says, as text.</summary>
    private sealed class Log(LinkType link) : IFrameSink
    {
        private readonly RecordDecoder _decoder = new();
        private long _number;

        public List<string> Lines { get; } = [];

        public string Counted
        {
            get
            {
                InputCounts counts = _decoder.CountsOf(0);
                string streams = string.Join(';', Enumerable.Range(0, _decoder.Streams.Count).Select(stream =>
                    $"{_decoder.Streams.SecondInstancesOf(stream)} {string.Join(',', _decoder.Paths.Of(stream).Select(path => $"{path.Destination}:{path.SourcePort}:{path.DestinationPort}"))}"));
                string senders = string.Join(';', Enumerable.Range(0, _decoder.Senders.Count).Select(sender =>
                    $"{_decoder.Senders.Describe(sender).Name} {string.Join(',', _decoder.Senders.Describe(sender).Addresses)}"));
                return FormattableString.Invariant($"{counts.Records} {counts.Malformed} {counts.CutBySnapLength} {counts.Fragments} {counts.OtherTraffic} | {streams} | {senders}");
            }
        }

        public void Take(byte[] octets, int originalLength, int interfaceId = 0)
        {
            CaptureRecord record = new()
            {
                Number = ++_number,
                Time = Timestamp.FromUnixNanoseconds(_number * 1_000_000),
                InterfaceId = interfaceId,
                LinkType = link,
                OriginalLength = originalLength,
                Data = octets,
            };
            _decoder.Decode(in record, this);
        }

        public void OnFrame(in DmxFrame frame) => Lines.Add(FormattableString.Invariant(
            $"{frame.Record} {frame.Time} {frame.Universe} {frame.UniverseIndex} {frame.Stream} {frame.Sender} {frame.StartCode} {frame.Sequence} {frame.Priority} {frame.SyncAddress} {frame.Host:X} {frame.Flags} {frame.Print.Value:X} {Convert.ToHexString(frame.Slots)}"));

        public void OnEvent(in LinkEvent linkEvent) => Lines.Add(linkEvent.ToString());
    }
}
