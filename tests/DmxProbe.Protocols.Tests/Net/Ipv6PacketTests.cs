using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Net;

// Layout: RFC 8200 sections 3 and 4; atomic fragments: RFC 6946; authentication header: RFC 4302.
public class Ipv6PacketTests
{
    private static readonly byte[] _payload = [0xAA, 0xBB, 0xCC];

    [Fact]
    public void Fields_are_read()
    {
        byte[] data = [.. PacketBytes.Ipv6(_payload), 0, 0];

        Assert.True(Ipv6Packet.TryParse(data, out Ipv6Packet packet, out WireError error));
        Assert.Equal(WireError.None, error);
        Assert.Equal(3, packet.PayloadLength);
        Assert.Equal(IpProtocol.Udp, packet.Protocol);
        Assert.Equal(7, packet.HopLimit);
        Assert.Equal(PacketBytes.Ipv6Source, packet.Source);
        Assert.Equal(PacketBytes.Ipv6Group, packet.Destination);
        Octets.Equal(_payload, packet.Payload);
        Assert.Equal(40, packet.HeaderLength);
        Assert.False(packet.IsCut || packet.IsFragment);
        Assert.Equal(0u, packet.Identification);
    }

    [Fact]
    public void Extension_headers_are_skipped()
    {
        byte[] extensions =
        [
            IpProtocol.Routing, 0, 5, 2, 0, 0, 0, 0, // hop-by-hop: router alert
            IpProtocol.Authentication, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, // routing, 16 octets
            IpProtocol.DestinationOptions, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, // authentication, 12 octets
            IpProtocol.Udp, 0, 1, 4, 0, 0, 0, 0, // destination options
        ];

        Assert.True(Ipv6Packet.TryParse(
            PacketBytes.Ipv6([.. extensions, .. _payload], IpProtocol.HopByHop), out Ipv6Packet packet, out _));
        Assert.Equal(IpProtocol.Udp, packet.Protocol);
        Assert.Equal(40 + extensions.Length, packet.HeaderLength);
        Octets.Equal(_payload, packet.Payload);
    }

    [Theory]
    [InlineData(0x0000, false, false, 0)] // atomic: a whole datagram
    [InlineData(0x0001, true, true, 0)]
    [InlineData(0x05A8, true, false, 1448)]
    [InlineData(0x05A9, true, true, 1448)]
    public void A_fragment_header_is_recognised(int field, bool isFragment, bool more, int offset)
    {
        byte[] header = [IpProtocol.Udp, 0, .. PacketBytes.Word(field), 0xCA, 0xFE, 0xF0, 0x0D];

        Assert.True(Ipv6Packet.TryParse(
            PacketBytes.Ipv6([.. header, .. _payload], IpProtocol.Fragment), out Ipv6Packet packet, out _));
        Assert.Equal((isFragment, more, offset), (packet.IsFragment, packet.MoreFragments, packet.FragmentOffset));
        Assert.Equal(0xCAFEF00D, packet.Identification);
        Assert.Equal(IpProtocol.Udp, packet.Protocol);
        Octets.Equal(_payload, packet.Payload);
    }

    [Fact]
    public void The_middle_of_a_datagram_is_not_taken_for_extension_headers()
    {
        byte[] header = [IpProtocol.DestinationOptions, 0, 0x05, 0xA8, 0, 0, 0, 1];

        Assert.True(Ipv6Packet.TryParse(
            PacketBytes.Ipv6([.. header, 0xFF, 0xFF, 0xFF], IpProtocol.Fragment), out Ipv6Packet packet, out _));
        Assert.Equal(IpProtocol.DestinationOptions, packet.Protocol);
        Assert.Equal(48, packet.HeaderLength);
    }

    [Fact]
    public void More_extension_headers_than_the_bound_are_invalid()
    {
        byte[] chain = [.. Enumerable.Repeat<byte[]>([IpProtocol.DestinationOptions, 0, 1, 4, 0, 0, 0, 0], 9).SelectMany(x => x)];
        byte[] allowed = [.. chain[..56], IpProtocol.Udp, .. chain[57..64]];

        Assert.True(Ipv6Packet.TryParse(PacketBytes.Ipv6(allowed, IpProtocol.DestinationOptions), out _, out _));
        Assert.False(Ipv6Packet.TryParse(
            PacketBytes.Ipv6(chain, IpProtocol.DestinationOptions), out _, out WireError error));
        Assert.Equal((WireErrorKind.Invalid, 40 + 64), (error.Kind, error.Offset));
    }

    [Fact]
    public void A_payload_length_of_zero_means_all_there_is()
    {
        Assert.True(Ipv6Packet.TryParse(PacketBytes.Ipv6(_payload, payloadLength: 0), out Ipv6Packet packet, out _));
        Octets.Equal(_payload, packet.Payload);
        Assert.False(packet.IsCut);
    }

    [Fact]
    public void A_packet_cut_in_its_headers_is_refused_and_cut_behind_them_says_so()
    {
        byte[] whole = PacketBytes.Ipv6([IpProtocol.Udp, 0, 1, 4, 0, 0, 0, 0, .. _payload], IpProtocol.HopByHop);
        for (int length = 0; length < whole.Length; length++)
        {
            bool parsed = Ipv6Packet.TryParse(Vector.Cut(whole, length), out Ipv6Packet packet, out WireError error);

            Assert.Equal(length >= 48, parsed);
            Assert.Equal(parsed, packet.IsCut);
            Assert.Equal(parsed ? WireErrorKind.None : WireErrorKind.Truncated, error.Kind);
            Assert.Equal(parsed ? 0 : length, error.Found);
        }
    }

    [Fact]
    public void Another_version_is_another_protocol()
    {
        Assert.False(Ipv6Packet.TryParse(PacketBytes.Ipv4([]), out _, out WireError error));
        Assert.Equal(new WireError(WireErrorKind.NotThisProtocol, 0, 6, 4), error);
    }
}
