using System.Buffers.Binary;
using DmxProbe.Protocols.Net;

namespace DmxProbe.Capture.Sockets;

/// <summary>
/// The Ethernet, IP and UDP headers that are made up in front of a datagram from a socket, so that every network record
/// is Ethernet and any capture tool can read it. Addresses and ports are those of the datagram; hardware addresses,
/// time to live and identification are not known to a socket: locally administered addresses, 64 and 0 stand there.
/// </summary>
internal static class FrameHeader
{
    /// <summary>Octets in front of an IPv4 payload.</summary>
    public const int Ipv4Length = Ethernet + Ipv4 + Udp;

    /// <summary>Octets in front of an IPv6 payload.</summary>
    public const int Ipv6Length = Ethernet + Ipv6 + Udp;

    /// <summary>The most room a header takes.</summary>
    public const int Longest = Ipv6Length;

    private const int Ethernet = 14;
    private const int Ipv4 = 20;
    private const int Ipv6 = 40;
    private const int Udp = 8;
    private const byte TimeToLive = 64;

    /// <summary>Writes the headers just before the payload.</summary>
    /// <returns>The whole packet.</returns>
    public static ReadOnlySpan<byte> Write(ReceivedDatagram datagram)
    {
        bool isIpv6 = datagram.Source.IsIpv6;
        int length = isIpv6 ? Ipv6Length : Ipv4Length;
        Span<byte> packet = datagram.Buffer[(datagram.PayloadAt - length)..];
        WriteHardware(packet, datagram.Destination, datagram.Source);
        int udpLength = Udp + datagram.TrueLength;
        Span<byte> network = packet[Ethernet..];
        Span<byte> udp = packet[(length - Udp)..];
        if (isIpv6)
        {
            WriteIpv6(network, in datagram, udpLength);
        }
        else
        {
            WriteIpv4(network, in datagram, udpLength);
        }

        BinaryPrimitives.WriteUInt16BigEndian(udp, datagram.SourcePort);
        BinaryPrimitives.WriteUInt16BigEndian(udp[2..], datagram.DestinationPort);
        BinaryPrimitives.WriteUInt16BigEndian(udp[4..], (ushort)udpLength);
        BinaryPrimitives.WriteUInt16BigEndian(udp[6..], 0); // IPv4: none was computed (RFC 768)
        if (isIpv6)
        {
            // Over IPv6 a checksum of 0 is not allowed (RFC 8200 section 8.1). Of a cut datagram none can be right.
            uint sum = Sum(network.Slice(8, 32), (uint)(udpLength + IpProtocol.Udp));
            ushort checksum = Fold(Sum(udp[..Math.Min(udp.Length, udpLength)], sum));
            BinaryPrimitives.WriteUInt16BigEndian(udp[6..], checksum == 0 ? ushort.MaxValue : checksum);
        }

        return packet;
    }

    private static void WriteHardware(Span<byte> packet, IpAddress destination, IpAddress source)
    {
        WriteHardwareOf(packet, destination);
        WriteHardwareOf(packet[6..], source);
        BinaryPrimitives.WriteUInt16BigEndian(packet[12..], destination.IsIpv6 ? EtherType.Ipv6 : EtherType.Ipv4);
    }

    private static void WriteHardwareOf(Span<byte> hardware, IpAddress address)
    {
        // RFC 1112 section 6.4 and RFC 2464 section 7 for groups; for hosts an address that nobody can own.
        ushort prefix = 0x0200;
        uint low = unchecked((uint)address.Low);
        if (address.IsMulticast)
        {
            prefix = (ushort)(address.IsIpv6 ? 0x3333 : 0x0100);
            low = address.IsIpv6 ? low : 0x5E000000 | (low & 0x7FFFFF);
        }
        else if (address.IsLimitedBroadcast)
        {
            prefix = 0xFFFF;
        }

        BinaryPrimitives.WriteUInt16BigEndian(hardware, prefix);
        BinaryPrimitives.WriteUInt32BigEndian(hardware[2..], low);
    }

    private static void WriteIpv4(Span<byte> network, in ReceivedDatagram datagram, int udpLength)
    {
        Span<byte> header = network[..Ipv4];
        header.Clear();
        header[0] = 0x45;
        BinaryPrimitives.WriteUInt16BigEndian(header[2..], (ushort)(Ipv4 + udpLength));
        header[6] = 0x40; // do not fragment: it is whole
        header[8] = TimeToLive;
        header[9] = IpProtocol.Udp;
        datagram.Source.CopyTo(header[12..]);
        datagram.Destination.CopyTo(header[16..]);
        BinaryPrimitives.WriteUInt16BigEndian(header[10..], Fold(Sum(header, 0)));
    }

    private static void WriteIpv6(Span<byte> network, in ReceivedDatagram datagram, int udpLength)
    {
        Span<byte> header = network[..Ipv6];
        header[..8].Clear();
        header[0] = 0x60;
        BinaryPrimitives.WriteUInt16BigEndian(header[4..], (ushort)udpLength);
        header[6] = IpProtocol.Udp;
        header[7] = TimeToLive;
        datagram.Source.CopyTo(header[8..]);
        datagram.Destination.CopyTo(header[24..]);
    }

    // RFC 1071: the ones' complement sum of 16-bit words; 64 KiB of them do not fill 32 bits.
    private static uint Sum(ReadOnlySpan<byte> octets, uint sum)
    {
        int i = 0;
        for (; i + 1 < octets.Length; i += 2)
        {
            sum = unchecked(sum + BinaryPrimitives.ReadUInt16BigEndian(octets[i..]));
        }

        return i < octets.Length ? unchecked(sum + ((uint)octets[i] << 8)) : sum;
    }

    private static ushort Fold(uint sum)
    {
        sum = (sum & 0xFFFF) + (sum >> 16);
        sum = (sum & 0xFFFF) + (sum >> 16);
        return unchecked((ushort)~sum);
    }
}
