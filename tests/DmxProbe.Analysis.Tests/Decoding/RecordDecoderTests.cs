using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;
using DmxProbe.Testing.Measuring;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>What holds for the decoder whatever the records hold.</summary>
public class RecordDecoderTests
{
    private static readonly Host From = Host.At("a", "192.0.2.10");
    private static readonly Host To = Host.At("b", "192.0.2.20");
    private static readonly byte[] CidOctets = SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e");

    private static readonly byte[][] Corpus =
    [
        UdpFrames.Build(UdpPath.ToSacnGroup(From, 1), SacnPackets.Data(CidOctets, "Source_A", 1, 1, [255, 128, 1])),
        UdpFrames.Build(UdpPath.ToSacnGroup(From, 1, ipv6: true), SacnPackets.Data(CidOctets, "Source_A", 1, 1, [255, 128, 1])),
        UdpFrames.Build(UdpPath.ToSacnGroup(From, 9), SacnPackets.Sync(CidOctets, 9, 1)),
        UdpFrames.Build(UdpPath.ToSacnGroup(From, 64214), SacnPackets.Discovery(CidOctets, "Source_A", [1, 2, 3])),
        UdpFrames.Build(UdpPath.ToSacnGroup(From, 1), SacnPackets.Draft(CidOctets, "Source_A", 1, 1, [1, 2, 3])),
        Art(ArtNetPackets.Dmx(0x123, 5, [255, 128, 64, 0])),
        Art(ArtNetPackets.Nzs(0x123, 5, 0x17, [0, 0, 72, 0])),
        Art(ArtNetPackets.Poll()),
        Art(ArtNetPackets.Sync()),
        Art(ArtNetPackets.PollReply(new ArtPollReplyFields
        {
            Address = From.Ipv4,
            Mac = From.Mac,
            PortAddress = 0x123,
            PortName = "Port one",
            LongName = "Long name of node",
        })),
    ];

    [Fact]
    public void Each_packet_is_counted_exactly_once_at_every_cut_length()
    {
        foreach (byte[] packet in Corpus)
        {
            for (int length = 0; length <= packet.Length; length++)
            {
                FrameCollector asSent = new FrameCollector().Take(packet[..length]);
                FrameCollector cut = new FrameCollector().Take(packet[..length], originalLength: packet.Length);

                InputCounts counts = cut.Decoder.CountsOf(0);
                Assert.Equal((1L, 0L), (counts.Records, counts.Malformed)); // what the snap length cut is nobody's fault
                Assert.Equal(asSent.Frames.Count, cut.Frames.Count);
                Assert.Equal(asSent.Decoder.CountsOf(0).OtherTraffic, counts.OtherTraffic);
                Assert.Equal(asSent.Decoder.CountsOf(0).Malformed, counts.CutBySnapLength);
            }
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void Records_with_octets_changed_never_make_it_throw(int seed)
    {
        Random random = new(seed);
        FrameCollector read = new();
        for (int round = 0; round < 5000; round++)
        {
            byte[] packet = [.. Corpus[random.Next(Corpus.Length)]];
            for (int changes = random.Next(1, 6); changes > 0; changes--)
            {
                packet[random.Next(packet.Length)] = (byte)random.Next(256);
            }

            read.Take(random.Next(3) == 0 ? packet[..random.Next(packet.Length + 1)] : packet);
        }

        Assert.Equal(5000, read.Decoder.CountsOf(0).Records);
        Assert.All(read.Frames, frame => Assert.InRange(frame.Slots.Length, 0, 512));
        Assert.True(read.Frames.Count > 500, $"only {read.Frames.Count} frames: the changes test nothing");
    }

    [Theory]
    [InlineData(11)]
    public void Noise_never_makes_it_throw(int seed)
    {
        Random random = new(seed);
        FrameCollector read = new();
        for (int round = 0; round < 5000; round++)
        {
            byte[] noise = new byte[random.Next(300)];
            random.NextBytes(noise);
            read.Take(noise);
        }

        Assert.Equal((5000L, 5000L), (read.Decoder.CountsOf(0).Records, read.Decoder.CountsOf(0).OtherTraffic));
    }

    [Fact]
    public void Frames_of_known_senders_allocate_nothing()
    {
        RecordDecoder decoder = new();
        Nothing sink = new();
        byte[] sacn = UdpFrames.Build(UdpPath.ToSacnGroup(From, 1), SacnPackets.Data(CidOctets, "Source_A", 1, 1, new byte[512]));
        byte[] dmx = Art(ArtNetPackets.Dmx(0x123, 5, new byte[512]));
        Feed(decoder, sink, sacn, dmx, 10);

        long fed = 10;
        long least = Allocations.Least(() =>
        {
            Feed(decoder, sink, sacn, dmx, 1000);
            fed += 1000;
        });

        Assert.Equal(0, least);
        Assert.Equal(2 * fed, sink.Frames);
    }

    [Fact]
    public void A_record_of_known_senders_allocates_nothing_in_the_whole_survey()
    {
        RecordDecoder decoder = new();
        SurveyAnalyzer survey = new();
        byte[][] sacn = [.. Enumerable.Range(0, 256).Select(i => UdpFrames.Build(
            UdpPath.ToSacnGroup(From, 1), SacnPackets.Data(CidOctets, "Source_A", 1, (byte)i, [.. Enumerable.Repeat((byte)(i / 3), 512)])))];
        byte[][] dmx = [.. Enumerable.Range(0, 256).Select(i => Art(ArtNetPackets.Dmx(0x123, (byte)Math.Max(1, i), [.. Enumerable.Repeat((byte)(i / 5), 512)])))];
        long at = 0;
        void Round()
        {
            for (int i = 0; i < 4096; i++)
            {
                // 44 Hz with jitter, and now and then the pause of a keep-alive.
                at += i % 512 == 0 ? 900_000_000 : 22_727_000 + (i % 7 * 100_000);
                Timestamp time = Timestamp.FromUnixNanoseconds(at);
                Decode(decoder, survey, sacn[i % 256], time);
                Decode(decoder, survey, dmx[i % 256], time);
                if (i % 64 == 0)
                {
                    survey.OnTime(time);
                }
            }
        }

        Round();
        Assert.Equal(0, Allocations.Least(Round));
        Assert.Equal(2, survey.Snapshot(decoder, [new InputSummary { Name = "test", Records = 1, Interfaces = [] }]).Universes.Count);
    }

    [Fact]
    public void Records_centuries_apart_are_surveyed_without_failing()
    {
        // if_tsoffset (14) moves the second interface to the year 1678; the first one's stamps lie in 2262.
        static CaptureBytes Nanoseconds(CaptureBytes options) => options.Option(9, [9]);
        byte[] file = new CaptureBytes()
            .Section()
            .Interface(options: options => Nanoseconds(options))
            .Interface(options: options => Nanoseconds(options).Option(14, unchecked((ulong)-9_223_372_036L)))
            .Raw(Turns(Corpus))
            .ToArray();

        using ICaptureSource source = CaptureFileReader.Open(new MemoryStream(file), "test");
        SurveySnapshot survey = Surveyor.Run(source, CancellationToken.None);

        Assert.Equal(3 * 2 * Corpus.Length, survey.Inputs.Single().Records);
        Assert.True(survey.Universes.Count > 0);
    }

    private static byte[] Turns(byte[][] packets)
    {
        CaptureBytes blocks = new();
        for (int turn = 0; turn < 3; turn++)
        {
            foreach (byte[] packet in packets)
            {
                blocks.Enhanced(0, long.MaxValue, packet).Enhanced(1, 0, packet);
            }
        }

        return blocks.ToArray();
    }

    private static byte[] Art(byte[] packet) => UdpFrames.Build(UdpPath.Unicast(From, To, ArtNetPackets.Port), packet);

    private static void Feed(RecordDecoder decoder, Nothing sink, byte[] first, byte[] second, int times)
    {
        for (int i = 0; i < times; i++)
        {
            Decode(decoder, sink, first);
            Decode(decoder, sink, second);
        }
    }

    private static void Decode(RecordDecoder decoder, IFrameSink sink, byte[] octets) =>
        Decode(decoder, sink, octets, Timestamp.FromUnixNanoseconds(1));

    private static void Decode(RecordDecoder decoder, IFrameSink sink, byte[] octets, Timestamp time)
    {
        CaptureRecord record = new()
        {
            Number = 1,
            Time = time,
            InterfaceId = 0,
            Kind = RecordKind.Packet,
            LinkType = LinkType.Ethernet,
            OriginalLength = octets.Length,
            Data = octets,
        };
        decoder.Decode(in record, sink);
    }

    private sealed class Nothing : IFrameSink
    {
        public int Frames { get; private set; }

        public void OnFrame(in DmxFrame frame) => Frames++;

        public void OnEvent(in LinkEvent linkEvent)
        {
        }
    }
}
