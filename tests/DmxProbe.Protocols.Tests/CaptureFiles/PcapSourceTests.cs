using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;

namespace DmxProbe.Protocols.Tests.CaptureFiles;

public sealed class PcapSourceTests
{
    private const string Fourteen = "000102030405060708090A0B0C0D";

    // standards-facts E1 and E5 7: all four magics, made by hand, read back by a general dissector.
    [Theory]
    [InlineData("us_le.pcap", 123_456_000, 1_000)]
    [InlineData("us_be.pcap", 123_456_000, 1_000)]
    [InlineData("ns_le.pcap", 123_456_789, 1)]
    [InlineData("ns_be.pcap", 123_456_789, 1)]
    public void Every_byte_order_and_time_unit_gives_the_same_packet(string name, long fraction, long resolution)
    {
        CapturedFile file = CapturedFile.Read(CaptureVectors.Load(name));

        Timestamp time = Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000 + fraction);
        Assert.Equal([new CapturedRecord(1, time, true, RecordKind.Packet, 0, LinkType.Ethernet, 60, 0, Fourteen)], file.Records);
        Assert.Equal(
            [new CaptureInterface(0, "", "", LinkType.Ethernet, 262_144, Duration.FromNanoseconds(resolution), StampedBy.Unknown)],
            file.Interfaces);
        Assert.Null(file.Problem);
    }

    // standards-facts E1: the link type word holds FCS length 4 bits, R, P, then the type in its low half.
    [Theory]
    [InlineData(0xF4000001, LinkType.Ethernet)]
    [InlineData(0x00000114, LinkType.LinuxSll2)]
    [InlineData(0xFFFF0065, LinkType.Raw)]
    public void The_link_type_is_the_low_half_of_its_word(uint word, LinkType expected)
    {
        CapturedFile file = CapturedFile.Read(new CaptureBytes().PcapHeader(linkType: word).PcapRecord(1, 0, [1]).ToArray());
        Assert.Equal(expected, file.Interfaces[0].LinkType);
        Assert.Equal(expected, file.Records[0].LinkType);
    }

    [Fact]
    public void A_header_without_packets_is_a_whole_file()
    {
        CapturedFile file = CapturedFile.Read(new CaptureBytes(bigEndian: true).PcapHeader().ToArray());
        Assert.Empty(file.Records);
        Assert.Null(file.Problem);
    }

    [Fact]
    public void Times_go_up_to_the_last_second_of_32_bits()
    {
        CapturedFile file = CapturedFile.Read(
            new CaptureBytes().PcapHeader(0xA1B23C4D).PcapRecord(uint.MaxValue, 999_999_999, []).ToArray());
        Assert.Equal("2106-02-07T06:28:15.999999999Z", file.Records[0].Time.ToString());
    }

    [Fact]
    public void Packets_longer_than_the_buffer_are_read_whole()
    {
        byte[] large = new byte[5_000_000];
        new Random(1).NextBytes(large);
        byte[] bytes = new CaptureBytes().PcapHeader(snapLength: 8_000_000)
            .PcapRecord(1, 0, [7]).PcapRecord(2, 0, large).PcapRecord(3, 0, [9]).ToArray();
        CapturedFile file = CapturedFile.Read(bytes);
        Assert.Null(file.Problem);
        Assert.Equal(["07", Convert.ToHexString(large), "09"], file.Records.Select(r => r.Data));
    }

    [Theory]
    [InlineData(60u, 59u, "record 2 is damaged at byte 53: expected an original length of at least the 60 octets captured, found 59; the 1 record before it was read")]
    [InlineData(262_145u, 262_145u, "record 2 is damaged at byte 49: expected at most 262,144 octets captured, found 262,145; the 1 record before it was read")]
    [InlineData(4_294_967_295u, 4_294_967_295u, "record 2 is damaged at byte 49: expected at most 262,144 octets captured, found 4,294,967,295; the 1 record before it was read")]
    [InlineData(60u, 2_147_483_648u, "record 2 is damaged at byte 53: expected an original length below 2 GiB, found 2,147,483,648 octets; the 1 record before it was read")]
    public void Impossible_lengths_end_the_file_with_a_sentence(uint captured, uint original, string sentence)
    {
        CapturedFile file = CapturedFile.Read(new CaptureBytes().PcapHeader(snapLength: 65_535)
            .PcapRecord(1, 0, [7]).PcapRecord(2, 0, new byte[60], original, captured).ToArray());
        Assert.Single(file.Records);
        Assert.Equal(sentence, file.Problem?.ToString());
    }

    [Theory]
    [InlineData(1, "the file ends inside record 2 at byte 41: expected 16 octets, found 1; the 1 record before it was read")]
    [InlineData(15, "the file ends inside record 2 at byte 41: expected 16 octets, found 15; the 1 record before it was read")]
    [InlineData(16, "the file ends inside record 2 at byte 41: expected 18 octets, found 16; the 1 record before it was read")]
    [InlineData(17, "the file ends inside record 2 at byte 41: expected 18 octets, found 17; the 1 record before it was read")]
    public void A_cut_file_says_where_and_how_much_is_missing(int left, string sentence)
    {
        byte[] bytes = new CaptureBytes().PcapHeader().PcapRecord(1, 0, [7]).PcapRecord(2, 0, [8, 9]).ToArray();
        CapturedFile file = CapturedFile.Read(bytes[..(41 + left)]);
        Assert.Single(file.Records);
        Assert.Equal(sentence, file.Problem?.ToString());
    }
}
