using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;

namespace DmxProbe.Protocols.Tests.CaptureFiles;

public sealed class SeekTests
{
    public static TheoryData<string> Files() => [.. CaptureVectors.Names, "pcap", "two sections", "no time", "long records"];

    [Theory]
    [MemberData(nameof(Files))]
    public void Going_to_any_record_of_a_newly_opened_file_gives_the_same_rest(string name)
    {
        byte[] bytes = Load(name);
        CapturedFile whole = ReadWithMarks(bytes, out List<CapturePosition> marks);
        Assert.NotEmpty(marks);
        foreach (CapturePosition mark in marks)
        {
            using ISeekableSource source = Open(bytes);
            source.Seek(mark);
            AssertRest(whole, mark, source);
            Assert.Equal(whole.Interfaces, source.Interfaces);
        }
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void Going_back_and_forth_in_one_source_gives_the_same_rest(string name)
    {
        byte[] bytes = Load(name);
        CapturedFile whole = ReadWithMarks(bytes, out List<CapturePosition> marks);
        Random random = new(5);
        using ISeekableSource source = Open(bytes);
        for (int round = 0; round < 60; round++)
        {
            CapturePosition mark = marks[random.Next(marks.Count)];
            source.Seek(mark);
            int most = random.Next(2) == 0 ? int.MaxValue : random.Next(5);
            AssertRest(whole, mark, source, most);
            Assert.Equal(whole.Interfaces.Take(source.Interfaces.Count), source.Interfaces);
        }
    }

    // A mark made after going somewhere is as good as one made while reading through.
    [Theory]
    [MemberData(nameof(Files))]
    public void A_mark_made_after_going_to_a_record_leads_to_the_same_place(string name)
    {
        byte[] bytes = Load(name);
        CapturedFile whole = ReadWithMarks(bytes, out List<CapturePosition> marks);
        foreach (CapturePosition mark in marks)
        {
            using ISeekableSource first = Open(bytes);
            first.Seek(mark);
            Assert.False(first.TryMark(out _));
            Assert.Equal(ReadStatus.Record, first.Read(out _));
            Assert.True(first.TryMark(out CapturePosition again));
            Assert.Equal((mark.Offset, mark.Number), (again.Offset, again.Number));
            using ISeekableSource second = Open(bytes);
            second.Seek(again);
            AssertRest(whole, again, second);
        }
    }

    [Fact]
    public void A_mark_says_where_the_record_is()
    {
        // 24 octets of file header, 16 of each record header.
        byte[] pcap = new CaptureBytes().PcapHeader().PcapRecord(1, 0, [7, 8, 9]).PcapRecord(2, 0, [8]).ToArray();
        ReadWithMarks(pcap, out List<CapturePosition> marks);
        Assert.Equal([(24L, 1L), (43L, 2L)], marks.Select(m => (m.Offset, m.Number)));

        // standards-facts E5 1: section header 28 octets, interface description 20.
        ReadWithMarks(CaptureVectors.Load("tiny.pcapng"), out marks);
        Assert.Equal([(48L, 1L)], marks.Select(m => (m.Offset, m.Number)));
    }

    [Fact]
    public void A_capture_that_does_not_start_at_the_front_of_its_stream_can_be_gone_through_too()
    {
        byte[] bytes = Load("long records");
        CapturedFile whole = ReadWithMarks(bytes, out List<CapturePosition> marks);
        MemoryStream stream = new([.. new byte[77], .. bytes]) { Position = 77 };
        using ISeekableSource source = (ISeekableSource)CaptureFileReader.Open(stream, "test");
        foreach (CapturePosition mark in marks.AsEnumerable().Reverse())
        {
            source.Seek(mark);
            AssertRest(whole, mark, source, 3);
        }
    }

    [Fact]
    public void The_sentence_about_a_cut_file_comes_again_after_going_back()
    {
        foreach (string name in (string[])["pcap", "two sections"])
        {
            byte[] bytes = Load(name)[..^5];
            CapturedFile whole = ReadWithMarks(bytes, out List<CapturePosition> marks);
            Assert.NotNull(whole.Problem);
            using ISeekableSource source = Open(bytes);
            foreach (CapturePosition mark in marks)
            {
                source.Seek(mark);
                Assert.Null(source.Problem);
                AssertRest(whole, mark, source);
            }
        }
    }

    [Fact]
    public void A_file_that_became_shorter_says_so()
    {
        foreach (string name in (string[])["pcap", "two sections"])
        {
            byte[] bytes = Load(name);
            ReadWithMarks(bytes, out List<CapturePosition> marks);
            CapturePosition mark = marks[^1];
            using ISeekableSource source = Open(bytes[..(int)mark.Offset]);
            source.Seek(mark);
            Assert.Equal(ReadStatus.End, source.Read(out _));
            Assert.Equal(
                $"the file has become shorter since it was first read at byte {mark.Offset:N0}: expected record {mark.Number}, found the end of the file; the {mark.Number - 1} records before it were read",
                source.Problem?.ToString());
        }
    }

    [Fact]
    public void There_is_no_mark_before_the_first_record_and_after_the_end()
    {
        foreach (string name in (string[])["us_le.pcap", "tiny.pcapng"])
        {
            using ISeekableSource source = Open(CaptureVectors.Load(name));
            Assert.False(source.TryMark(out _));
            Assert.Equal(ReadStatus.Record, source.Read(out _));
            Assert.True(source.TryMark(out _));
            Assert.Equal(ReadStatus.End, source.Read(out _));
            Assert.False(source.TryMark(out _));
        }
    }

    [Fact]
    public void A_packed_file_and_a_pipe_give_no_marks_and_go_nowhere()
    {
        foreach (string name in (string[])["us_le.pcap", "tiny.pcapng"])
        {
            byte[] bytes = CaptureVectors.Load(name);
            ReadWithMarks(bytes, out List<CapturePosition> marks);
            foreach (Stream stream in (Stream[])[new MemoryStream(CapturedFile.Gzip(bytes)), new TrickleStream(bytes, 50)])
            {
                using ISeekableSource source = (ISeekableSource)CaptureFileReader.Open(stream, "test");
                Assert.Equal(ReadStatus.Record, source.Read(out _));
                Assert.False(source.TryMark(out _));
                Assert.Throws<NotSupportedException>(() => source.Seek(marks[0]));
            }
        }
    }

    [Fact]
    public void A_mark_of_another_kind_of_file_is_refused()
    {
        ReadWithMarks(CaptureVectors.Load("us_le.pcap"), out List<CapturePosition> pcap);
        ReadWithMarks(CaptureVectors.Load("tiny.pcapng"), out List<CapturePosition> pcapng);
        using ISeekableSource old = Open(CaptureVectors.Load("us_le.pcap"));
        using ISeekableSource next = Open(CaptureVectors.Load("tiny.pcapng"));
        Assert.Throws<ArgumentException>(() => old.Seek(pcapng[0]));
        Assert.Throws<ArgumentException>(() => old.Seek(default));
        Assert.Throws<ArgumentException>(() => next.Seek(pcap[0]));
        Assert.Throws<ArgumentException>(() => next.Seek(default));
    }

    // What comes is undefined, but it comes to an end, and every record names an interface that is listed.
    [Fact]
    public void Marks_of_one_file_used_on_another_never_throw()
    {
        Random random = new(11);
        foreach (string name in Files())
        {
            byte[] bytes = Load(name);
            ReadWithMarks(bytes, out List<CapturePosition> marks);
            for (int round = 0; round < 60; round++)
            {
                byte[] other = [.. bytes];
                random.NextBytes(other.AsSpan(Math.Min(other.Length, 100 + random.Next(other.Length))));
                using ISeekableSource source = Open(other);
                source.Seek(marks[random.Next(marks.Count)]);
                while (source.Read(out CaptureRecord record) == ReadStatus.Record)
                {
                    Assert.InRange(record.InterfaceId, 0, source.Interfaces.Count - 1);
                }
            }
        }
    }

    [Fact]
    public void A_section_with_very_many_interfaces_is_read_without_marks()
    {
        CaptureBytes bytes = new CaptureBytes().Section();
        for (int i = 0; i < 1_024; i++)
        {
            bytes.Interface();
        }

        bytes.Enhanced(1_023, 1, [1]).Interface().Enhanced(1_024, 2, [2]);
        using ISeekableSource source = Open(bytes.ToArray());
        Assert.Equal(ReadStatus.Record, source.Read(out _));
        Assert.True(source.TryMark(out _));
        Assert.Equal(ReadStatus.Record, source.Read(out _));
        Assert.False(source.TryMark(out _));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Marking_every_record_allocates_nothing(bool pcapng)
    {
        byte[] record = pcapng
            ? new CaptureBytes().Enhanced(0, 5, new byte[20], options: o => o.Option(1, "note"u8)).ToArray()
            : new CaptureBytes().PcapRecord(1, 0, new byte[20]).ToArray();
        MemoryStream stream = new();
        stream.Write(pcapng ? new CaptureBytes().Section().Interface().ToArray() : new CaptureBytes().PcapHeader().ToArray());
        for (int i = 0; i < 400_000; i++)
        {
            stream.Write(record);
        }

        stream.Position = 0;
        using ISeekableSource source = (ISeekableSource)CaptureFileReader.Open(stream, "test");
        long least = long.MaxValue;
        for (int round = 0; round < 4; round++)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            for (int i = 0; i < 100_000; i++)
            {
                Assert.True(source.Read(out _) == ReadStatus.Record && source.TryMark(out _));
            }

            least = Math.Min(least, GC.GetAllocatedBytesForCurrentThread() - before);
        }

        // The runtime itself allocates once or twice on this thread when it replaces code by faster code.
        Assert.Equal(0, least);
    }

    private static ISeekableSource Open(byte[] bytes) => (ISeekableSource)CaptureFileReader.Open(new MemoryStream(bytes), "test");

    private static CapturedFile ReadWithMarks(byte[] bytes, out List<CapturePosition> marks)
    {
        marks = [];
        List<CapturedRecord> records = [];
        using ISeekableSource source = Open(bytes);
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            records.Add(CapturedRecord.Of(in record));
            Assert.True(source.TryMark(out CapturePosition mark));
            Assert.Equal(record.Number, mark.Number);
            marks.Add(mark);
        }

        // Marking changed nothing.
        CapturedFile plain = CapturedFile.Read(bytes);
        Assert.Equal(plain.Records, records);
        return plain;
    }

    private static void AssertRest(CapturedFile whole, CapturePosition mark, ISeekableSource source, int most = int.MaxValue)
    {
        int next = (int)mark.Number - 1;
        for (int count = 0; count < most; count++)
        {
            if (source.Read(out CaptureRecord record) != ReadStatus.Record)
            {
                Assert.Equal(whole.Records.Count, next);
                Assert.Equal(whole.Problem, source.Problem);
                return;
            }

            Assert.Equal(whole.Records[next++], CapturedRecord.Of(in record));
        }
    }

    private static byte[] Load(string name)
    {
        Random random = new(3);
        switch (name)
        {
            case "pcap":
                return new CaptureBytes(bigEndian: true).PcapHeader(0xA1B23C4D)
                    .PcapRecord(1, 5, [1, 2, 3]).PcapRecord(2, 6, []).PcapRecord(3, 7, new byte[61]).PcapRecord(4, 8, [9], 60).ToArray();
            case "two sections":
                return
                [
                    .. Losses(new CaptureBytes().Section().Interface(options: o => o.Option(2, "eth0"u8).Option(9, [9])).Interface(276, 64)),
                    .. Losses(new CaptureBytes(true).Section().Interface(113).Interface().Interface(options: o => o.Option(2, "eth9"u8))),
                    .. new CaptureBytes().Section().ToArray(),
                ];
            case "no time":
                return new CaptureBytes().Section().Interface(snapLength: 8)
                    .Block(3, b => b.U32(2).Raw([1, 2])).Enhanced(0, 77, [3]).Block(3, b => b.U32(9).Raw(new byte[8]))
                    .Block(3, b => b.U32(1).Raw([4])).Enhanced(0, 88, [5]).Block(3, b => b.U32(1).Raw([6])).ToArray();
            case "long records":
                CaptureBytes bytes = new CaptureBytes().PcapHeader();
                foreach (int length in (int[])[10, 140_001, 200_000, 3, 262_144, 60_001, 0, 250_000, 17])
                {
                    byte[] data = new byte[length];
                    random.NextBytes(data);
                    bytes.PcapRecord((uint)length, 0, data);
                }

                return bytes.ToArray();
            default:
                return CaptureVectors.Load(name);
        }
    }

    /// <summary>Every block that counts losses, and a new interface in between.</summary>
    private static byte[] Losses(CaptureBytes section) => section
        .Enhanced(0, 5, [1, 2, 3], options: o => o.Option(4, 2))
        .Statistics(1, 6, o => o.Option(5, 4))
        .Block(0x80000001, b => b.Raw("mark"u8))
        .Enhanced(1, 7, new byte[60], 90, options: o => o.Option(4, 3))
        .Statistics(0, 8, o => o.Option(5, 2))
        .Statistics(1, 8, o => o.Option(5, 10))
        .Block(2, b => b.U16(0).U16(5).U32(0).U32(9).U32(2).U32(2).Padded([5, 6]))
        .Interface(options: o => o.Option(2, "late"u8))
        .Block(3, b => b.U32(1).Padded([4]))
        .Statistics(0, 9, o => o.Option(5, 8).Option(7, 1))
        .Enhanced(2, 10, [8]).ToArray();
}
