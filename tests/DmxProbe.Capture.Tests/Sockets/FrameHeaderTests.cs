using DmxProbe.Capture.Sockets;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Tests.Sockets;

public class FrameHeaderTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void The_made_up_headers_carry_addresses_ports_lengths_and_true_checksums(bool isIpv6)
    {
        byte[] buffer = [.. new byte[64], .. Enumerable.Range(0, 639).Select(i => (byte)(i % 251))];
        ReceivedDatagram datagram = new()
        {
            Buffer = buffer,
            PayloadAt = 64,
            TrueLength = 639,
            Time = default,
            InterfaceIndex = 2,
            Source = isIpv6 ? IpAddress.FromIpv6(0xFE80000000000000, 0x1234) : IpAddress.FromIpv4(0xC0000202),
            SourcePort = 50_000,
            Destination = isIpv6 ? IpAddress.FromIpv6(0xFF18000000000000, 0x83000001) : IpAddress.FromIpv4(0xEFFF0001),
            DestinationPort = 5568,
        };
        ReadOnlySpan<byte> packet = FrameHeader.Write(datagram);
        Assert.True(NetworkDatagram.TryParse(LinkType.Ethernet, packet, out NetworkDatagram seen, out _));
        Assert.Equal(datagram.Source, seen.Source);
        Assert.Equal(datagram.Destination, seen.Destination);
        Assert.Equal(50_000, seen.SourcePort);
        Assert.Equal(5568, seen.DestinationPort);
        Assert.True(seen.Payload.SequenceEqual(buffer.AsSpan(64)));
        Assert.False(seen.IsCut);

        // RFC 1071: the sum over what a checksum covers, itself included, is all ones.
        Assert.Equal(0xFFFF, isIpv6 ? Sum([.. packet[22..54], 0, 0, 2, 0x87, 0, 0, 0, 17, .. packet[54..]]) : Sum(packet[14..34]));

        // RFC 1112 section 6.4 and RFC 2464 section 7.
        Assert.Equal(isIpv6 ? "333383000001" : "01005E7F0001", Convert.ToHexString(packet[..6]));
    }

    private static int Sum(ReadOnlySpan<byte> octets)
    {
        int sum = 0;
        for (int i = 0; i < octets.Length; i++)
        {
            sum += i % 2 == 0 ? octets[i] << 8 : octets[i];
        }

        sum = (sum & 0xFFFF) + (sum >> 16);
        return (sum & 0xFFFF) + (sum >> 16);
    }
}
