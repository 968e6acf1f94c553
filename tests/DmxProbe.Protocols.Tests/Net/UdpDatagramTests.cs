using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Net;

// Layout: RFC 768; length 0: RFC 2675 section 4.
public class UdpDatagramTests
{
    [Fact]
    public void Fields_are_read_and_octets_behind_the_length_left_out()
    {
        byte[] data = [.. PacketBytes.Udp(49152, 6454, [1, 2, 3]), 9, 9];
        data[6] = 0x12;

        Assert.True(UdpDatagram.TryParse(data, out UdpDatagram udp, out _));
        Assert.Equal((49152, 6454, 11, 0x1200), (udp.SourcePort, udp.DestinationPort, udp.Length, udp.Checksum));
        Octets.Equal([1, 2, 3], udp.Payload);
        Assert.False(udp.IsCut);
    }

    [Fact]
    public void A_length_over_what_is_there_means_cut()
    {
        Assert.True(UdpDatagram.TryParse(PacketBytes.Udp(1, 2, [1, 2, 3], length: 12), out UdpDatagram udp, out _));
        Octets.Equal([1, 2, 3], udp.Payload);
        Assert.True(udp.IsCut);
    }

    [Fact]
    public void A_length_of_zero_means_all_there_is()
    {
        Assert.True(UdpDatagram.TryParse(PacketBytes.Udp(1, 2, [1, 2, 3], length: 0), out UdpDatagram udp, out _));
        Octets.Equal([1, 2, 3], udp.Payload);
        Assert.False(udp.IsCut);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    public void A_length_below_the_header_is_invalid(int length)
    {
        Assert.False(UdpDatagram.TryParse(PacketBytes.Udp(1, 2, [1, 2, 3], length), out _, out WireError error));
        Assert.Equal(new WireError(WireErrorKind.Invalid, 4, 8, length), error);
    }

    [Fact]
    public void A_cut_header_is_refused_with_its_offset()
    {
        for (int length = 0; length < 8; length++)
        {
            Assert.False(UdpDatagram.TryParse(new byte[length], out _, out WireError error));
            Assert.Equal(WireError.Truncated(8, length), error);
        }
    }
}
