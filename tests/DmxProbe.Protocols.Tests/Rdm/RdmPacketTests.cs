using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Rdm;

// Vectors of standards-facts D6: constructed there, dissected with tshark 4.0.17 inside ArtRdm; the first is widely
// reproduced as E1.20's own example (its checksum is arithmetic).
public class RdmPacketTests
{
    private const string StatusMessages = "cc01191234 56789abccba987654321 00010000 0020 0030 0104 066a";
    private const string StartAddressReply = "cc011a 7ff012345678 7ff000000001 01 00 00 0000 21 00f0 02 0065 0653";
    private const string DeviceInfoReply =
        "cc012b 7ff012345678 7ff000000001 02 00 00 0000 21 0060 13 01000042010200010203001002030065000001 0648";

    [Theory]
    [InlineData(StatusMessages, 0x0030, RdmCommandClass.Get, "1234:56789ABC", "CBA9:87654321", 1)]
    [InlineData("cc0118 7ff000000001 7ff012345678 01 01 00 0000 20 00f0 00 05ea", 0x00F0, RdmCommandClass.Get, "7FF0:00000001", "7FF0:12345678", 0)]
    [InlineData(StartAddressReply, 0x00F0, RdmCommandClass.GetResponse, "7FF0:12345678", "7FF0:00000001", 2)]
    [InlineData(DeviceInfoReply, 0x0060, RdmCommandClass.GetResponse, "7FF0:12345678", "7FF0:00000001", 19)]
    [InlineData("cc0119 7ff000000001 7ff012345678 06 01 00 0000 30 1000 01 01 0522", 0x1000, RdmCommandClass.Set, "7FF0:00000001", "7FF0:12345678", 1)]
    public void The_published_and_constructed_packets_are_read(
        string hex, int parameter, RdmCommandClass command, string destination, string source, int dataOctets)
    {
        byte[] octets = Hex(hex);
        Assert.True(RdmPacket.TryParse(octets, out RdmPacket packet, out WireError error));
        Assert.Equal(WireError.None, error);
        Assert.Equal(parameter, packet.Parameter);
        Assert.Equal(command, packet.CommandClass);
        Assert.Equal(destination, packet.Destination.ToString());
        Assert.Equal(source, packet.Source.ToString());
        Assert.Equal(dataOctets, packet.Data.Length);
        Assert.True(packet.IsDataLengthRight);
        Assert.True(packet.IsChecksumRight);
        Assert.Equal(octets.Length, packet.Length);
        Assert.Equal(octets.Length, RdmPacket.LengthFrom(octets));
    }

    [Fact]
    public void Answers_say_of_what_kind_they_are()
    {
        Assert.True(RdmPacket.TryParse(Hex("cc011a 7ff012345678 7ff000000001 03 01 00 0000 21 00f0 02 0014 0605"), out RdmPacket timer, out _));
        Assert.Equal(RdmResponseType.AckTimer, timer.ResponseType);
        Assert.True(timer.IsResponse);
        Assert.Equal([0x00, 0x14], timer.Data.ToArray()); // 2.0 s in steps of 100 ms
        Assert.True(RdmPacket.TryParse(Hex("cc011a 7ff012345678 7ff000000001 07 02 00 0000 21 0120 02 0000 0527"), out RdmPacket nack, out _));
        Assert.Equal(RdmResponseType.NackReason, nack.ResponseType);
    }

    [Fact]
    public void A_cut_packet_is_refused_at_every_length_and_a_wrong_checksum_is_not()
    {
        byte[] whole = Hex(DeviceInfoReply);
        for (int length = 0; length < whole.Length; length++)
        {
            Assert.False(RdmPacket.TryParse(Vector.Cut(whole, length), out _, out WireError error));
            Assert.Equal(WireErrorKind.Truncated, error.Kind);
        }

        whole[^1] ^= 1;
        Assert.True(RdmPacket.TryParse(whole, out RdmPacket packet, out _));
        Assert.False(packet.IsChecksumRight);
    }

    [Theory]
    [InlineData(0, 0x00, WireErrorKind.NotThisProtocol)]
    [InlineData(1, 0x02, WireErrorKind.NotThisProtocol)]
    [InlineData(2, 23, WireErrorKind.Invalid)]
    public void What_is_no_RDM_packet_is_refused_with_its_octet(int at, byte value, WireErrorKind kind)
    {
        byte[] octets = Hex(StartAddressReply);
        octets[at] = value;
        Assert.False(RdmPacket.TryParse(octets, out _, out WireError error));
        Assert.Equal((kind, at), (error.Kind, error.Offset));
        Assert.Equal(0, RdmPacket.LengthFrom(octets));
    }

    // Arithmetic of standards-facts D4: both copies together give the UID; the sum is over the encoded octets.
    [Theory]
    [InlineData("fefefefefefefeaa ff7ffaf5aa55aa55aa55ab55 af57ea7f", "7FF0:00000001")]
    [InlineData("aa ba57be75fe57fa7dbadfbefd aa5dee75", "1234:56789ABC")]
    public void A_discovery_reply_gives_the_UID_and_is_refused_when_cut_or_damaged(string hex, string uid)
    {
        byte[] octets = Hex(hex);
        Assert.True(RdmDiscoveryReply.TryParse(octets, out RdmUid found));
        Assert.Equal(uid, found.ToString());
        for (int length = 0; length < octets.Length; length++)
        {
            Assert.False(RdmDiscoveryReply.TryParse(Vector.Cut(octets, length), out _));
        }

        octets[^5] &= 0x5A;
        Assert.False(RdmDiscoveryReply.TryParse(octets, out _));
    }

    [Fact]
    public void Noise_is_refused_or_read_and_never_throws()
    {
        Random random = new(20260314);
        for (int round = 0; round < 20_000; round++)
        {
            byte[] octets = new byte[random.Next(0, 60)];
            random.NextBytes(octets);
            if (octets.Length > 2 && round % 2 == 0)
            {
                (octets[0], octets[1]) = (0xCC, 0x01);
            }

            if (RdmPacket.TryParse(octets, out RdmPacket packet, out _))
            {
                _ = packet.Data.Length + packet.Checksum + packet.SubDevice;
            }

            _ = RdmDiscoveryReply.TryParse(octets, out _);
        }
    }

    [Fact]
    public void Broadcasts_are_told_from_single_devices()
    {
        Assert.True(new RdmUid(0xFFFFFFFFFFFF).IsBroadcast);
        Assert.True(new RdmUid(0x7FF0FFFFFFFF).IsBroadcast);
        Assert.False(new RdmUid(0x7FF000000001).IsBroadcast);
        Assert.Equal("DMX_START_ADDRESS", RdmParameter.Name(0xF0));
        Assert.Equal("8000h", RdmParameter.Name(0x8000));
    }

    [Theory]
    [InlineData("7FF0:12345678", 0x7FF012345678)]
    [InlineData(" 7ff012345678 ", 0x7FF012345678)]
    [InlineData("FFFF:FFFFFFFF", 0xFFFFFFFFFFFF)]
    [InlineData("7FF0:1234567", -1)]
    [InlineData("7FF01:2345678", -1)]
    [InlineData("7FF0:1234567G", -1)]
    [InlineData("-FF0:12345678", -1)]
    [InlineData("+7F012345678", -1)]
    [InlineData("", -1)]
    public void A_UID_is_read_as_people_write_it(string text, long value)
    {
        Assert.Equal(value >= 0, RdmUid.TryParse(text, out RdmUid uid));
        Assert.Equal(Math.Max(0, value), value >= 0 ? uid.Value : 0);
    }

    private static byte[] Hex(string hex) => Convert.FromHexString(hex.Replace(" ", "", StringComparison.Ordinal));
}
