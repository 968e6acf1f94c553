using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Net;

// Layout: RFC 791 section 3.1.
public class Ipv4PacketTests
{
    [Fact]
    public void Fields_are_read_behind_a_header_with_options()
    {
        byte[] data = PacketBytes.Ipv4([1, 2, 3], options: [0x94, 4, 0, 0], identification: 0xBEEF);

        Assert.True(Ipv4Packet.TryParse(data, out Ipv4Packet packet, out _));
        Assert.Equal(24, packet.HeaderLength);
        Assert.Equal(27, packet.TotalLength);
        Assert.Equal(0xBEEF, packet.Identification);
        Assert.Equal(32, packet.TimeToLive);
        Assert.Equal(IpProtocol.Udp, packet.Protocol);
        Assert.Equal(0xC000020A, packet.Source);
        Assert.Equal(0xEFFF0001, packet.Destination);
        Octets.Equal([1, 2, 3], packet.Payload);
        Assert.False(packet.IsFragment || packet.MoreFragments || packet.IsCut);
    }

    [Fact]
    public void Padding_behind_the_total_length_is_no_payload()
    {
        byte[] data = [.. PacketBytes.Ipv4([1, 2, 3]), 0, 0, 0, 0];

        Assert.True(Ipv4Packet.TryParse(data, out Ipv4Packet packet, out _));
        Octets.Equal([1, 2, 3], packet.Payload);
        Assert.False(packet.IsCut);
    }

    [Fact]
    public void A_total_length_of_zero_means_all_there_is()
    {
        Assert.True(Ipv4Packet.TryParse(PacketBytes.Ipv4([1, 2, 3], totalLength: 0), out Ipv4Packet packet, out _));
        Octets.Equal([1, 2, 3], packet.Payload);
        Assert.False(packet.IsCut);
    }

    [Theory]
    [InlineData(0x0000, false, false, 0)]
    [InlineData(0x4000, false, false, 0)] // do not fragment
    [InlineData(0x2000, true, true, 0)]
    [InlineData(0x00B9, true, false, 1480)]
    [InlineData(0x3FFF, true, true, 65528)]
    public void Fragments_are_told_by_flag_or_offset(int field, bool isFragment, bool more, int offset)
    {
        Assert.True(Ipv4Packet.TryParse(PacketBytes.Ipv4([1], flagsAndOffset: field), out Ipv4Packet packet, out _));
        Assert.Equal((isFragment, more, offset), (packet.IsFragment, packet.MoreFragments, packet.FragmentOffset));
    }

    [Fact]
    public void Another_version_is_another_protocol()
    {
        Assert.False(Ipv4Packet.TryParse(PacketBytes.Ipv6([1]), out _, out WireError error));
        Assert.Equal(new WireError(WireErrorKind.NotThisProtocol, 0, 4, 6), error);
    }

    [Fact]
    public void Lengths_shorter_than_the_header_are_invalid()
    {
        byte[] data = PacketBytes.Ipv4([1, 2, 3]);

        Assert.False(Ipv4Packet.TryParse(Vector.With(data, 0, 0x44), out _, out WireError header));
        Assert.Equal(new WireError(WireErrorKind.Invalid, 0, 20, 16), header);
        Assert.False(Ipv4Packet.TryParse(Vector.With(data, 2, 0, 19), out _, out WireError total));
        Assert.Equal(new WireError(WireErrorKind.Invalid, 2, 20, 19), total);
    }

    [Fact]
    public void A_packet_cut_in_its_header_is_refused_and_cut_behind_it_says_so()
    {
        byte[] whole = PacketBytes.Ipv4([1, 2, 3, 4], options: [1, 1, 1, 0]);
        for (int length = 0; length < whole.Length; length++)
        {
            bool parsed = Ipv4Packet.TryParse(Vector.Cut(whole, length), out Ipv4Packet packet, out WireError error);

            Assert.Equal(length >= 24, parsed);
            Assert.Equal(parsed ? WireErrorKind.None : WireErrorKind.Truncated, error.Kind);
            Assert.Equal(parsed, packet.IsCut);
            Assert.Equal(parsed ? length - 24 : 0, parsed ? packet.Payload.Length : 0);
        }
    }
}
