using System.Text;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Measuring;

namespace DmxProbe.Protocols.Tests.CaptureFiles;

public sealed class PcapngWriterTests
{
    private static readonly byte[] Fourteen = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13];

    // standards-facts E5 1, with the if_tsresol option that our writer always writes (E2: code 9, length 1, padded to 4).
    [Fact]
    public void The_smallest_file_is_written_byte_for_byte()
    {
        byte[] file = Write(writer =>
        {
            int id = writer.AddInterface("", "", LinkType.Ethernet, resolution: 6);
            writer.WritePacket(id, Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000), Fourteen, 14);
        });

        byte[] expected = Convert.FromHexString(
            "0A0D0D0A1C0000004D3C2B1A01000000FFFFFFFFFFFFFFFF1C000000" +
            "0100000020000000010000000000000009000100060000000000000020000000" +
            "060000003000000000000000240A060000401E180E0000000E000000" +
            "000102030405060708090A0B0C0D000030000000");
        Assert.Equal(expected, file);
    }

    [Fact]
    public void Every_option_is_written_byte_for_byte()
    {
        byte[] file = Write(
            writer =>
            {
                int id = writer.AddInterface("eth0", "tap", LinkType.Ethernet, 1518, 9, -1);
                writer.WritePacket(id, Timestamp.FromUnixNanoseconds(5), [0xAA], 60, "é", 7);
                writer.WriteStatistics(id, Timestamp.FromUnixNanoseconds(6), 3, 2, 1);
                writer.WriteRawBlock(0x80000001, [1, 2, 3, 4, 5]);
            },
            "DmxProbe");

        byte[] expected = Convert.FromHexString(
            "0A0D0D0A2C0000004D3C2B1A01000000FFFFFFFFFFFFFFFF" + "04000800" + "446D7850726F6265" + "00000000" + "2C000000" +
            "010000003C00000001000000EE050000" + "0200040065746830" + "0300030074617000" + "0900010009000000" +
            "0E000800FFFFFFFFFFFFFFFF" + "00000000" + "3C000000" +
            "060000003C000000" + "00000000" + "00000000" + "05CA9A3B" + "01000000" + "3C000000" + "AA000000" +
            "01000200C3A90000" + "040008000700000000000000" + "00000000" + "3C000000" +
            "0500000040000000" + "00000000" + "00000000" + "06CA9A3B" + "040008000300000000000000" +
            "050008000200000000000000" + "070008000100000000000000" + "00000000" + "40000000" +
            "010000801400000001020304" + "05000000" + "14000000");
        Assert.Equal(expected, file);
    }

    [Fact]
    public void The_same_calls_give_the_same_bytes_and_the_count_of_them()
    {
        static void Calls(PcapngWriter writer)
        {
            int id = writer.AddInterface("a", "b", LinkType.Raw);
            for (int i = 0; i < 2_000; i++)
            {
                writer.WritePacket(id, Timestamp.FromUnixNanoseconds(i), new byte[i % 700], 700);
            }

            writer.Flush();
        }

        byte[] first = Write(Calls);
        using MemoryStream stream = new();
        using PcapngWriter second = new(stream, "", leaveOpen: true);
        Calls(second);
        Assert.Equal(first, stream.ToArray());
        Assert.Equal(first.Length, second.BytesWritten);
    }

    [Fact]
    public void Writing_a_packet_allocates_nothing()
    {
        using PcapngWriter writer = new(Stream.Null, "");
        int id = writer.AddInterface("", "", LinkType.Ethernet);
        byte[] data = new byte[680];
        long least = Allocations.Least(() =>
        {
            for (int i = 0; i < 50_000; i++)
            {
                writer.WritePacket(id, Timestamp.FromUnixNanoseconds(i), data, 680, lostBefore: i & 1);
            }
        });

        Assert.Equal(0, least);
    }

    [Fact]
    public void Text_over_the_longest_option_is_cut_between_characters()
    {
        byte[] file = Write(writer =>
        {
            int id = writer.AddInterface("", "", LinkType.Ethernet);
            writer.WritePacket(id, Timestamp.FromUnixNanoseconds(0), [], 0, "a" + new string('é', 40_000));
        });

        int option = 28 + 32 + 28;
        Assert.Equal(65_535, file[option + 2] | (file[option + 3] << 8));
        Assert.EndsWith("é", Encoding.UTF8.GetString(file, option + 4, 65_535), StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_format_cannot_hold_is_refused()
    {
        using PcapngWriter writer = new(Stream.Null, "");
        int id = writer.AddInterface("", "", LinkType.Ethernet);
        Assert.Throws<ArgumentOutOfRangeException>(() => writer.WritePacket(id, Timestamp.FromUnixNanoseconds(-1), [], 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => writer.WritePacket(id + 1, Timestamp.FromUnixNanoseconds(0), [], 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => writer.WritePacket(id, Timestamp.FromUnixNanoseconds(0), [1], 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => writer.AddInterface("", "", LinkType.Ethernet, resolution: 10));
        Assert.Throws<ArgumentOutOfRangeException>(() => writer.WriteRawBlock(0x80000001, new byte[16 * 1024 * 1024]));
    }

    private static byte[] Write(Action<PcapngWriter> calls, string application = "")
    {
        using MemoryStream stream = new();
        using (PcapngWriter writer = new(stream, application, leaveOpen: true))
        {
            calls(writer);
        }

        return stream.ToArray();
    }
}
