using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Line;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;

namespace DmxProbe.Protocols.Tests.CaptureFiles;

/// <summary>Our blocks of local-use types: everything that is not an Ethernet packet (docs/formats.md).</summary>
public sealed class ChannelBlockTests
{
    private static readonly CaptureInterface Net =
        new(0, "net", "here", LinkType.Ethernet, 1_514, Duration.FromMicroseconds(1), StampedBy.Kernel);

    private static readonly CaptureInterface[] Channels =
    [
        Channel("line A", InterfaceContent.Line, StampedBy.SampleClock) with { TicksPerSecond = 24_000_000 },
        Channel("uart", InterfaceContent.SerialUart, StampedBy.OurRead),
        Channel("framed", InterfaceContent.SerialFramed, StampedBy.OurRead),
        Channel("marks", InterfaceContent.Marks, StampedBy.OurRead),
        Channel("stage left", InterfaceContent.Light, StampedBy.Unknown),
        new(0, "radio", "a link type that nobody turns into Ethernet", (LinkType)105, 400, Duration.FromNanoseconds(3), StampedBy.Adapter),
    ];

    [Fact]
    public void Every_kind_of_record_comes_back_with_its_channel()
    {
        byte[] file = Write();
        CapturedFile read = CapturedFile.Read(file);
        Assert.Null(read.Problem);
        Assert.Equal([Net, .. Channels.Select((channel, i) => channel with { Id = i + 1 })], read.Interfaces);
        Assert.Equal(
            [
                RecordKind.Packet, RecordKind.Edges, RecordKind.Serial, RecordKind.Serial, RecordKind.Mark, RecordKind.Light,
                RecordKind.Packet, RecordKind.Loss, RecordKind.Packet, RecordKind.Mark,
            ],
            read.Records.Select(record => record.Kind));
        Assert.Equal(Sent(), read.Records);
    }

    // pcapng: what a section's byte order says of our body is nothing, so a tool may turn the framing round.
    [Fact]
    public void A_section_of_the_other_byte_order_holds_the_same_channels()
    {
        byte[] little = Write();
        CaptureBytes big = new(bigEndian: true);
        for (int at = 0; at < little.Length;)
        {
            uint type = BitConverter.ToUInt32(little, at);
            int length = BitConverter.ToInt32(little, at + 4);
            byte[] body = little[(at + 8)..(at + length - 4)];
            at += length;
            switch (type)
            {
                case 0x0A0D0D0A:
                    big.Section();
                    break;
                case 1:
                    big.Interface();
                    break;
                case 6:
                    big.Enhanced(0, 1, [1, 2]);
                    break;
                default:
                    big.Block(type, b => b.Raw(body));
                    break;
            }
        }

        CapturedFile read = CapturedFile.Read(big.ToArray());
        Assert.Null(read.Problem);
        Assert.Equal(
            Sent().Where(record => record.InterfaceId > 0), read.Records.Where(record => record.InterfaceId > 0));
    }

    [Fact]
    public void Local_blocks_of_others_with_the_same_number_are_stepped_over()
    {
        byte[] file = new CaptureBytes().Section()
            .Block(0x80445801, b => b.Raw(new byte[60])).Block(0x80445802, b => b.Raw("DmxProb?"u8).Raw(new byte[60]))
            .Interface().Enhanced(0, 5, [9]).ToArray();
        CapturedFile read = CapturedFile.Read(file);
        Assert.Null(read.Problem);
        Assert.Single(read.Records);
        Assert.Single(read.Interfaces);
    }

    [Fact]
    public void A_file_cut_anywhere_gives_the_records_before_the_cut_and_one_sentence()
    {
        byte[] bytes = Write();
        CapturedFile whole = CapturedFile.Read(bytes);
        int unseen = 0;
        for (int length = 64; length < bytes.Length; length++)
        {
            CapturedFile cut = CapturedFile.Read(bytes[..length]);
            Assert.Equal(whole.Records.Take(cut.Records.Count), cut.Records);
            unseen += cut.Problem is null ? 1 : 0;
        }

        // Only a cut exactly between two blocks cannot be seen.
        Assert.InRange(unseen, 1, whole.Records.Count + Channels.Length + 2);
    }

    [Fact]
    public void Damaged_blocks_of_ours_end_the_file_with_a_sentence_and_never_with_an_exception()
    {
        byte[] whole = Write();
        Random random = new(20_261_125);
        int refused = 0;
        for (int round = 0; round < 4_000; round++)
        {
            byte[] bytes = [.. whole];
            for (int hits = random.Next(1, 6); hits > 0; hits--)
            {
                bytes[random.Next(64, bytes.Length)] = (byte)random.Next(256);
            }

            CapturedFile read = CapturedFile.Read(bytes);
            refused += read.Problem is null ? 0 : 1;
            Assert.All(read.Records, record => Assert.InRange(record.InterfaceId, 0, read.Interfaces.Count - 1));
            Assert.All(
                read.Records.Where(record => record.Kind == RecordKind.Mark),
                mark => Assert.InRange(mark.Data.Length / 2, 0, 1_024));
        }

        Assert.InRange(refused, 100, 3_999);
    }

    [Theory]
    [InlineData(0, 8, "expected 0, found 7")]
    [InlineData(0, 12, "a channel of an unknown kind")]
    [InlineData(0, 44, "run past its block")]
    [InlineData(1, 8, "names a channel that the section does not describe")]
    [InlineData(1, 32, "its record is too long")]
    public void The_sentence_says_what_is_wrong(int block, int offset, string part)
    {
        byte[] file = new CaptureBytes().Section().ToArray();
        using MemoryStream stream = new();
        using (PcapngWriter writer = new(stream, "", leaveOpen: true))
        {
            int channel = writer.AddChannel(Channel("m", InterfaceContent.Marks, StampedBy.OurRead));
            writer.WriteChannelRecord(channel, new CaptureRecord { Number = 1, Time = At(1), InterfaceId = 0, Data = "hi"u8 });
        }

        byte[] bytes = stream.ToArray();
        int at = file.Length;
        if (block == 1)
        {
            at += BitConverter.ToInt32(bytes, at + 4);
        }

        bytes[at + 8 + offset] = 7;
        string sentence = CapturedFile.Read(bytes).Problem?.ToString() ?? "";
        Assert.Contains(part, sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_record_can_be_gone_back_to()
    {
        byte[] bytes = Write();
        CapturedFile whole = CapturedFile.Read(bytes);
        using ISeekableSource source = (ISeekableSource)CaptureFileReader.Open(new MemoryStream(bytes), "t");
        List<CapturePosition> marks = [];
        while (source.Read(out _) == ReadStatus.Record)
        {
            Assert.True(source.TryMark(out CapturePosition position));
            marks.Add(position);
        }

        foreach (CapturePosition mark in marks.AsEnumerable().Reverse())
        {
            using ISeekableSource again = (ISeekableSource)CaptureFileReader.Open(new MemoryStream(bytes), "t");
            again.Seek(mark);
            Assert.Equal(whole.Records.Skip((int)mark.Number - 1), CapturedFile.Read(again).Records);
        }
    }

    private static CaptureInterface Channel(string name, InterfaceContent content, StampedBy stampedBy) =>
        new(0, name, "of the rig \u00e9", LinkType.None, 0, Duration.FromNanoseconds(42), stampedBy) { Content = content };

    private static Timestamp At(long time) => Timestamp.FromUnixNanoseconds(time);

    private static CapturedRecord[] Sent()
    {
        byte[] edges = new byte[EdgeRun.HeaderSize + 4];
        EdgeRun.WriteHeader(edges, LineLevel.High, EdgeRunFlags.Gap, 3, 17);
        byte[] light = new byte[LightReading.Size];
        new LightReading(1, 2, 3).Write(light);
        return
        [
            Of(1, 5_000, RecordKind.Packet, 0, [1, 2, 3]),
            Of(2, -7, RecordKind.Edges, 1, edges),
            Of(3, 5_002, RecordKind.Serial, 2, [1, 0, 0, 5]),
            Of(4, 5_003, RecordKind.Serial, 3, [0, 5]),
            Of(5, 5_004, RecordKind.Mark, 4, "LX1-6 flickers"u8),
            Of(6, 5_005, RecordKind.Light, 5, light),
            Of(7, 5_006, RecordKind.Packet, 6, [8, 8, 8, 8, 8]) with { OriginalLength = 900, LostBefore = 4 },
            Of(8, 5_007, RecordKind.Loss, 3, []) with { LostBefore = uint.MaxValue },
            Of(9, 5_008, RecordKind.Packet, 0, [4]),
            Of(10, 5_008, RecordKind.Mark, 4, new byte[1_024]) with { HasTime = false },
        ];
    }

    private static CapturedRecord Of(long number, long time, RecordKind kind, int id, ReadOnlySpan<byte> data) => new(
        number, At(time), true, kind, id, id == 0 ? LinkType.Ethernet : Channels[id - 1].LinkType, data.Length, 0, Convert.ToHexString(data));

    private static byte[] Write()
    {
        using MemoryStream stream = new();
        using (PcapngWriter writer = new(stream, "test", leaveOpen: true))
        {
            writer.AddInterface(Net.Name, Net.Description, Net.LinkType, source: Net);
            Assert.Equal(Enumerable.Range(0, Channels.Length), Channels.Select(writer.AddChannel));
            foreach (CapturedRecord sent in Sent())
            {
                byte[] data = Convert.FromHexString(sent.Data);
                if (sent.InterfaceId == 0)
                {
                    writer.WritePacket(0, sent.Time, data, sent.OriginalLength);
                }
                else
                {
                    writer.WriteChannelRecord(sent.InterfaceId - 1, new CaptureRecord
                    {
                        Number = sent.Number,
                        Time = sent.Time,
                        HasTime = sent.HasTime,
                        Kind = sent.Kind,
                        InterfaceId = sent.InterfaceId,
                        LinkType = sent.LinkType,
                        OriginalLength = sent.OriginalLength,
                        LostBefore = sent.LostBefore,
                        Data = data,
                    });
                }
            }
        }

        return stream.ToArray();
    }
}
