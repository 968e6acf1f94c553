using System.Numerics;
using System.Text;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;

namespace DmxProbe.Protocols.Tests.CaptureFiles;

public sealed class PcapngSourceTests
{
    private const string After1 = "; the 1 record before it was read";
    private const string Damaged = "a pcapng block is damaged (";

    // standards-facts E5 1 and 2: 1,700,000,000 s as a 64-bit count of microseconds; "seconds in hi" would be 1970.
    [Fact]
    public void The_smallest_file_gives_its_one_packet()
    {
        CapturedFile file = CapturedFile.Read(CaptureVectors.Load("tiny.pcapng"));
        Timestamp time = Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000);
        Assert.Equal(
            [new CapturedRecord(1, time, true, RecordKind.Packet, 0, LinkType.Ethernet, 14, 0, "000102030405060708090A0B0C0D")],
            file.Records);
        Assert.Equal(
            [new CaptureInterface(0, "", "", LinkType.Ethernet, 0, Duration.FromNanoseconds(1_000), StampedBy.Unknown)], file.Interfaces);
        Assert.Null(file.Problem);
    }

    // standards-facts E5 4 and 7: big endian, if_tsoffset 1,700,000,000 + 1.5 s, a simple packet block, a local-use block.
    [Fact]
    public void A_big_endian_file_with_a_time_offset_and_a_simple_packet_is_read()
    {
        CapturedFile file = CapturedFile.Read(CaptureVectors.Load("be.pcapng"));
        Assert.Null(file.Problem);
        Assert.Equal(2, file.Records.Count);
        Assert.Equal("2023-11-14T22:13:21.500000000Z", file.Records[0].Time.ToString());
        Assert.True(file.Records[0].HasTime);
        Assert.Equal(68 * 2, file.Records[0].Data.Length);
        Assert.False(file.Records[1].HasTime);
        Assert.Equal(file.Records[0].Time, file.Records[1].Time);
        Assert.Equal(56, file.Records[1].OriginalLength);
        Assert.StartsWith("01005E7F0001", file.Records[1].Data, StringComparison.Ordinal);
    }

    // standards-facts E5 7: 26 packets, one per check vector, a comment on each.
    [Fact]
    public void Comments_and_options_are_stepped_over()
    {
        CapturedFile file = CapturedFile.Read(CaptureVectors.Load("all.pcapng"));
        Assert.Null(file.Problem);
        Assert.Equal(26, file.Records.Count);
        Assert.Equal("eth0", file.Interfaces[0].Name);
        Assert.Equal(1, file.Interfaces[0].Resolution.Nanoseconds);
        Assert.All(file.Records, r => Assert.Equal(r.OriginalLength * 2, r.Data.Length));
        Assert.All(file.Records, r => Assert.Equal(0, r.LostBefore));
    }

    // Against exact fractions of whole numbers (System.Numerics), for every resolution the format allows up to the limit.
    [Fact]
    public void Times_are_exact_for_every_resolution_and_offset()
    {
        Random random = new(20261125);
        for (int resolution = 0; resolution < 256; resolution++)
        {
            bool binary = resolution >= 128;
            int exponent = resolution & 127;
            if (exponent > (binary ? 63 : 19))
            {
                continue;
            }

            BigInteger unitsPerSecond = BigInteger.Pow(binary ? 2 : 10, exponent);
            for (int round = 0; round < 40; round++)
            {
                long offset = round == 0 ? 0 : random.NextInt64(-9_000_000_000, 9_000_000_000);
                ulong ticks = unchecked((ulong)random.NextInt64(long.MinValue, long.MaxValue)) >> random.Next(64);
                BigInteger expected = (ticks * BigInteger.Pow(10, 9) / unitsPerSecond) + (offset * BigInteger.Pow(10, 9));
                CapturedFile file = OneTime((byte)resolution, offset, ticks);
                if (expected >= long.MinValue && expected <= long.MaxValue)
                {
                    Assert.Equal((long)expected, Assert.Single(file.Records).Time.UnixNanoseconds);
                    Assert.Null(file.Problem);
                }
                else
                {
                    Assert.Empty(file.Records);
                    Assert.Equal(
                        Damaged + $"its time is out of range) at byte 80: expected a time between the years 1678 and 2262, found {ticks} units; no record could be read before it",
                        file.Problem?.ToString());
                }
            }
        }
    }

    [Theory]
    [InlineData(0x00, 1_000_000_000)]
    [InlineData(0x06, 1_000)]
    [InlineData(0x09, 1)]
    [InlineData(0x0C, 1)] // finer than our clock: rounded up
    [InlineData(0x86, 15_625_000)] // standards-facts E5 4: 2^-6 s
    [InlineData(0x8A, 976_563)] // 2^-10 s = 976,562.5 ns
    public void The_resolution_of_an_interface_is_told_in_whole_nanoseconds(byte resolution, long nanoseconds) =>
        Assert.Equal(nanoseconds, OneTime(resolution, 0, 1).Interfaces[0].Resolution.Nanoseconds);

    [Theory]
    [InlineData(long.MaxValue)]
    [InlineData(long.MinValue)]
    public void An_absurd_time_offset_is_damage(long offset) =>
        Assert.Contains("out of range", OneTime(9, offset, 5).Problem?.ToString(), StringComparison.Ordinal);

    // standards-facts E5 3: the statistics time of the format's own example.
    [Fact]
    public void The_statistics_example_of_the_draft_has_its_time()
    {
        byte[] bytes = new CaptureBytes().Section().Interface()
            .Block(5, b => b.U32(0).Raw(Convert.FromHexString("96C3040073896A65")).Option(5, 2)).ToArray();
        CapturedRecord loss = Assert.Single(CapturedFile.Read(bytes).Records);
        Assert.Equal("2012-06-29T06:17:00.834163000Z", loss.Time.ToString());
        Assert.Equal((RecordKind.Loss, 2, ""), (loss.Kind, loss.LostBefore, loss.Data));
    }

    // standards-facts E5 5.
    [Theory]
    [InlineData(64u, 64, 64)]
    [InlineData(0u, 100, 100)]
    [InlineData(200u, 100, 100)]
    public void A_simple_packet_is_as_long_as_the_snap_length_lets_it(uint snapLength, int inFile, int expected)
    {
        byte[] bytes = new CaptureBytes().Section().Interface(snapLength: snapLength)
            .Block(3, b => b.U32(100).Raw(new byte[inFile])).ToArray();
        CapturedRecord packet = Assert.Single(CapturedFile.Read(bytes).Records);
        Assert.Equal(expected * 2, packet.Data.Length);
        Assert.Equal(100, packet.OriginalLength);
        Assert.False(packet.HasTime);
    }

    [Fact]
    public void Sections_of_both_byte_orders_number_their_interfaces_anew_and_keep_unique_ids()
    {
        byte[] little = new CaptureBytes().Section(minor: 2)
            .Interface(1, 96, o => o.Option(2, "left"u8))
            .Interface(276, 0, o => o.Option(3, "all of them"u8).Option(9, [9]).U16(0).U16(0))
            .Enhanced(1, 5, [1]).Enhanced(0, 5, [2]).ToArray();
        byte[] big = new CaptureBytes(bigEndian: true).Section(length: 48)
            .Interface(101, 0, o => o.Option(2, "right"u8)).Enhanced(0, 6, [3]).ToArray();

        CapturedFile file = CapturedFile.Read([.. little, .. big, .. little]);
        Assert.Null(file.Problem);
        Assert.Equal([1, 0, 2, 4, 3], file.Records.Select(r => r.InterfaceId));
        Assert.Equal([1L, 2, 3, 4, 5], file.Records.Select(r => r.Number));
        Assert.Equal([5L, 5_000, 6_000, 5, 5_000], file.Records.Select(r => r.Time.UnixNanoseconds));
        Assert.Equal(["left", "", "right", "left", ""], file.Interfaces.Select(i => i.Name));
        Assert.Equal(["", "all of them", "", "", "all of them"], file.Interfaces.Select(i => i.Description));
        Assert.Equal([0, 1, 2, 3, 4], file.Interfaces.Select(i => i.Id));
        Assert.Equal([LinkType.Ethernet, LinkType.LinuxSll2, LinkType.Raw, LinkType.Ethernet, LinkType.LinuxSll2], file.Interfaces.Select(i => i.LinkType));
        Assert.Equal(96, file.Interfaces[0].SnapLength);
    }

    [Fact]
    public void Losses_are_reported_once_whoever_counts_them()
    {
        byte[] bytes = new CaptureBytes().Section().Interface().Interface()
            .Enhanced(0, 1, [1], options: o => o.Option(1, "note"u8).Option(4, 3))
            .Statistics(0, 2, o => o.Option(4, 100).Option(5, 3)) // the 3 that the packet told
            .Statistics(1, 2, o => o.Option(5, 3).Option(7, 4).U32(0)) // interface and system together
            .Statistics(0, 3, o => o.Option(5, 8))
            .Statistics(0, 4, o => o.Option(5, 8))
            .Statistics(0, 5, o => o.Option(5, 2)) // a counter that went back says nothing
            .Block(2, b => b.U16(1).U16(9).U32(0).U32(6).U32(1).U32(1).Padded([2])) // obsolete packet block, 9 drops
            .Block(2, b => b.U16(1).U16(0xFFFF).U32(0).U32(7).U32(1).U32(1).Padded([3])) // drops unknown
            .Enhanced(0, 8, [4], options: o => o.Option(4, ulong.MaxValue)) // absurd: held at 32 bits so that sums cannot overflow
            .Statistics(0, 9).ToArray();

        CapturedFile file = CapturedFile.Read(bytes);
        Assert.Null(file.Problem);
        Assert.Equal(
            [(1L, 0, RecordKind.Packet, 3L), (2, 1, RecordKind.Loss, 7), (3, 0, RecordKind.Loss, 5), (6, 1, RecordKind.Packet, 9), (7, 1, RecordKind.Packet, 0), (8, 0, RecordKind.Packet, uint.MaxValue)],
            file.Records.Select(r => (r.Time.UnixNanoseconds / 1_000, r.InterfaceId, r.Kind, r.LostBefore)));
    }

    [Fact]
    public void Blocks_that_hold_no_packets_are_stepped_over()
    {
        CaptureBytes bytes = new CaptureBytes().Section().Interface().Enhanced(0, 1, [1]);
        foreach (uint type in (uint[])[4, 9, 10, 0xBAD, 0x40000BAD, 0x80000001, 0xFFFFFFFF, 7, 0])
        {
            bytes.Block(type, b => b.Raw(new byte[41])).Block(type, _ => { });
        }

        CapturedFile file = CapturedFile.Read(bytes.Enhanced(0, 2, [2]).ToArray());
        Assert.Null(file.Problem);
        Assert.Equal(["01", "02"], file.Records.Select(r => r.Data));
    }

    [Fact]
    public void Names_are_kept_as_they_are_but_not_without_end()
    {
        string name = "\u001b[31mé\u202e";
        byte[] bytes = new CaptureBytes().Section()
            .Interface(options: o => o.Option(2, Encoding.UTF8.GetBytes(name)).Option(3, Encoding.UTF8.GetBytes(new string('é', 3_000))))
            .Interface(options: o => o.Option(2, [0x41, 0xFF, 0x42])).ToArray();
        CapturedFile file = CapturedFile.Read(bytes);
        Assert.Equal(name, file.Interfaces[0].Name);
        Assert.Equal(new string('é', 512), file.Interfaces[0].Description);
        Assert.Equal("A\uFFFDB", file.Interfaces[1].Name);
    }

    [Fact]
    public void A_packet_with_damaged_options_is_still_a_packet()
    {
        byte[] bytes = new CaptureBytes().Section().Interface()
            .Enhanced(0, 1, [1], options: o => o.U16(4).U16(400))
            .Enhanced(0, 2, [2], original: 0).ToArray();
        CapturedFile file = CapturedFile.Read(bytes);
        Assert.Null(file.Problem);
        Assert.Equal([1, 1], file.Records.Select(r => r.OriginalLength));
    }

    public static TheoryData<string, byte[], string> Negative() => new()
    {
        { "length 8", Good().U32(6).U32(8).Raw(new byte[8]).ToArray(), "a pcapng block has an impossible length at byte 88: expected a multiple of 4 from 12 to 16,777,216, found 8" + After1 },
        { "length 30", Good().U32(6).U32(30).Raw(new byte[30]).ToArray(), "a pcapng block has an impossible length at byte 88: expected a multiple of 4 from 12 to 16,777,216, found 30" + After1 },
        { "length 4 GB", Good().U32(6).U32(0xFFFFFFFC).Raw(new byte[30]).ToArray(), "a pcapng block has an impossible length at byte 88: expected a multiple of 4 from 12 to 16,777,216, found 4,294,967,292" + After1 },
        { "trailer", Good().U32(7).U32(16).U32(0).U32(20).ToArray(), "a pcapng block does not end with its own length at byte 96: expected 16, found 20" + After1 },
        { "interface 3", Good().Enhanced(3, 1, [1]).ToArray(), Damaged + "it names an interface that the section does not describe) at byte 92: expected at most interface 0, found interface 3" + After1 },
        { "no interface", Good().Section().Enhanced(0, 1, [1]).ToArray(), Damaged + "it names an interface that the section does not describe) at byte 120: expected an interface description before it, found interface 0" + After1 },
        { "captured", Good().Enhanced(0, 1, [1, 2], captured: 5).ToArray(), Damaged + "its packet is longer than its block) at byte 104: expected at most 4 octets, found 5" + After1 },
        { "captured 4 GB", Good().Enhanced(0, 1, [1, 2], captured: 0xFFFFFFFF).ToArray(), Damaged + "its packet is longer than its block) at byte 104: expected at most 4 octets, found 4,294,967,295" + After1 },
        { "simple", Good().Block(3, b => b.U32(9).U32(0)).ToArray(), Damaged + "its packet is longer than its block) at byte 92: expected at most 4 octets, found 9" + After1 },
        { "short packet", Good().Block(6, b => b.U32(0)).ToArray(), Damaged + "an enhanced packet block is too short) at byte 88: expected a body of at least 20 octets, found 4" + After1 },
        { "short statistics", Good().Block(5, b => b.U32(0)).ToArray(), Damaged + "an interface statistics block is too short) at byte 88: expected a body of at least 12 octets, found 4" + After1 },
        { "short interface", Good().Block(1, b => b.U32(0)).ToArray(), Damaged + "an interface description is too short) at byte 88: expected a body of at least 8 octets, found 4" + After1 },
        { "tsresol of 2", Good().Interface(options: o => o.Option(9, [6, 0])).ToArray(), Damaged + "option if_tsresol has a wrong length) at byte 100: expected 1 octet, found 2" + After1 },
        { "tsresol 10^-20", Good().Interface(options: o => o.Option(9, [20])).ToArray(), Damaged + "the clock of an interface is too fine) at byte 100: expected if_tsresol up to 10^-19 or 2^-63, found 14h" + After1 },
        { "tsoffset of 4", Good().Interface(options: o => o.Option(14, [1, 2, 3, 4])).ToArray(), Damaged + "option if_tsoffset has a wrong length) at byte 100: expected 8 octets, found 4" + After1 },
        { "long option", Good().Interface(options: o => o.U16(2).U16(5).U32(0)).ToArray(), Damaged + "an option of an interface description is longer than its block) at byte 100: expected options that end with the block, found more" + After1 },
        { "version", Good().Section(minor: 1).ToArray(), "a pcapng section of another version at byte 96: expected version 1.0, found 1.1" + After1 },
    };

    // The first five are the negative list of standards-facts E5 6.
    [Theory]
    [MemberData(nameof(Negative))]
    public void Damage_ends_the_file_with_a_sentence_and_keeps_what_was_before(string what, byte[] bytes, string sentence)
    {
        CapturedFile file = CapturedFile.Read(bytes);
        Assert.NotEmpty(what);
        Assert.Equal("0102", Assert.Single(file.Records).Data);
        Assert.Equal(sentence, file.Problem?.ToString());
    }

    [Fact]
    public void The_largest_block_is_read_and_the_next_larger_refused()
    {
        byte[] bytes = Good().Block(0x80000001, b => b.Raw(new byte[(16 * 1024 * 1024) - 12])).Enhanced(0, 9, [9]).ToArray();
        Assert.Equal(["0102", "09"], CapturedFile.Read(bytes).Records.Select(r => r.Data));
        Assert.Null(CapturedFile.Read(bytes).Problem);

        CapturedFile over = CapturedFile.Read(Good().Block(0x80000001, b => b.Raw(new byte[(16 * 1024 * 1024) - 8])).ToArray());
        Assert.Contains("found 16,777,220", over.Problem?.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Interfaces_without_end_are_refused()
    {
        CaptureBytes bytes = new CaptureBytes().Section();
        byte[] one = new CaptureBytes().Interface().ToArray();
        for (int i = 0; i < 65_537; i++)
        {
            bytes.Raw(one);
        }

        CapturedFile file = CapturedFile.Read(bytes.ToArray());
        Assert.Equal(65_536, file.Interfaces.Count);
        Assert.Contains("there are too many interfaces", file.Problem?.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_writer_wrote_is_what_the_reader_reads()
    {
        Random random = new(7);
        List<CapturedRecord> expected = [];
        using MemoryStream stream = new();
        using (PcapngWriter writer = new(stream, "DmxProbe", leaveOpen: true))
        {
            writer.AddInterface("a", "first", LinkType.Ethernet, 1_000);
            writer.AddInterface("b", "", LinkType.Raw, 0, 6, -9_223_372_037);
            for (int i = 1; i <= 3_000; i++)
            {
                byte[] data = new byte[random.Next(900)];
                random.NextBytes(data);
                int id = random.Next(2);
                long time = id == 0 ? random.NextInt64(long.MaxValue) : random.NextInt64(-9_223_372_036_854_775, 9_223_372_036_854_775) * 1_000;
                long lost = random.Next(4) == 0 ? random.Next(100) : 0;
                string? comment = random.Next(3) == 0 ? "packet " + i : null;
                writer.WritePacket(id, Timestamp.FromUnixNanoseconds(time), data, data.Length + id, comment, lost);
                expected.Add(new CapturedRecord(
                    i, Timestamp.FromUnixNanoseconds(time), true, RecordKind.Packet, id, id == 0 ? LinkType.Ethernet : LinkType.Raw, data.Length + id, lost, Convert.ToHexString(data)));
            }
        }

        CapturedFile file = CapturedFile.Read(stream.ToArray());
        Assert.Null(file.Problem);
        Assert.Equal(expected, file.Records);
        Assert.Equal(
            [
                new CaptureInterface(0, "a", "first", LinkType.Ethernet, 1_000, Duration.FromNanoseconds(1), StampedBy.Unknown),
                new CaptureInterface(1, "b", "", LinkType.Raw, 0, Duration.FromMicroseconds(1), StampedBy.Unknown),
            ],
            file.Interfaces);
    }

    // 28 + 20 + 36 = 84 octets with one packet.
    private static CaptureBytes Good() => new CaptureBytes().Section().Interface().Enhanced(0, 1, [1, 2]);

    private static CapturedFile OneTime(byte resolution, long offset, ulong ticks) => CapturedFile.Read(
        new CaptureBytes().Section()
            .Interface(options: o => o.Option(9, [resolution]).Option(14, unchecked((ulong)offset)))
            .Enhanced(0, ticks, [1]).ToArray());
}
