using System.Net.Sockets;

namespace DmxProbe.Testing.Network.Packets;

/// <summary>
/// Puts a UDP payload into an Ethernet frame: Ethernet II, 802.1Q where asked, IPv4 (RFC 791) or IPv6 (RFC 8200), UDP
/// (RFC 768) with right checksums.
/// </summary>
public static class UdpFrames
{
    private const int UdpProtocol = 17;

    /// <summary>Builds the frame, without preamble, padding and frame check.</summary>
    /// <param name="path">From where to where.</param>
    /// <param name="payload">The UDP payload.</param>
    /// <param name="identification">Identification of the IPv4 header; not used by IPv6.</param>
    public static byte[] Build(UdpPath path, ReadOnlySpan<byte> payload, int identification = 0)
    {
        bool ipv6 = path.Destination.AddressFamily == AddressFamily.InterNetworkV6;
        PacketBytes frame = new PacketBytes().Raw(path.DestinationMac).Raw(path.SourceMac);
        if (path.Vlan is int vlan)
        {
            frame.U16(0x8100).U16(vlan);
        }

        byte[] source = path.Source.GetAddressBytes();
        byte[] destination = path.Destination.GetAddressBytes();
        byte[] udp = Udp(path, source, destination, payload);
        if (ipv6)
        {
            frame.U16(0x86DD).U32(0x60000000).U16(udp.Length).U8(UdpProtocol).U8(path.HopLimit);
        }
        else
        {
            byte[] header = Ipv4Header(path, udp.Length, identification, checksum: 0);
            frame.U16(0x0800).Raw(Ipv4Header(path, udp.Length, identification, Checksum(header)).AsSpan(0, 12));
        }

        return frame.Raw(source).Raw(destination).Raw(udp).ToArray();
    }

    private static byte[] Udp(UdpPath path, byte[] source, byte[] destination, ReadOnlySpan<byte> payload)
    {
        int length = 8 + payload.Length;
        int checksum = 0;
        if (path.Checksum)
        {
            // The pseudo header of IPv4 and of IPv6 add up alike: addresses, protocol, length.
            byte[] summed = new PacketBytes()
                .Raw(source).Raw(destination).U16(UdpProtocol).U16(length)
                .U16(path.SourcePort).U16(path.DestinationPort).U16(length).U16(0).Raw(payload)
                .ToArray();
            checksum = Checksum(summed);

            // 0 on the wire means "no checksum" (RFC 768).
            checksum = checksum == 0 ? 0xFFFF : checksum;
        }

        return new PacketBytes()
            .U16(path.SourcePort).U16(path.DestinationPort).U16(length).U16(checksum).Raw(payload)
            .ToArray();
    }

    private static byte[] Ipv4Header(UdpPath path, int udpLength, int identification, int checksum) =>
        new PacketBytes()
            .U8(0x45).U8(0).U16(20 + udpLength).U16(identification).U16(0)
            .U8(path.HopLimit).U8(UdpProtocol).U16(checksum)
            .Raw(path.Source.GetAddressBytes()).Raw(path.Destination.GetAddressBytes())
            .ToArray();

    /// <summary>The Internet checksum (RFC 1071) of octets taken as big-endian words.</summary>
    private static int Checksum(ReadOnlySpan<byte> bytes)
    {
        long sum = 0;
        for (int i = 0; i < bytes.Length; i += 2)
        {
            sum += (bytes[i] << 8) | (i + 1 < bytes.Length ? bytes[i + 1] : 0);
        }

        while (sum > 0xFFFF)
        {
            sum = (sum & 0xFFFF) + (sum >> 16);
        }

        return (int)(~sum & 0xFFFF);
    }
}
