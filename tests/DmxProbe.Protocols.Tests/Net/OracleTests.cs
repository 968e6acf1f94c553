using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using PacketDotNet;

namespace DmxProbe.Protocols.Tests.Net;

/// <summary>The walk against a general packet library (PacketDotNet), on whole frames: it throws on cut ones.</summary>
public class OracleTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void A_general_packet_library_reads_the_same_fields(int seed)
    {
        Random random = new(seed);
        for (int i = 0; i < 1000; i++)
        {
            byte[] payload = new byte[random.Next(0, 700)];
            random.NextBytes(payload);
            byte[] udpBytes = PacketBytes.Udp(random.Next(65536), random.Next(65536), payload);
            bool isIpv6 = random.Next(2) == 0;
            byte[] ip = isIpv6
                ? PacketBytes.Ipv6(udpBytes)
                : PacketBytes.Ipv4(
                    udpBytes,
                    options: [.. Enumerable.Repeat((byte)1, 4 * random.Next(11))],
                    identification: random.Next(65536),
                    source: (uint)random.NextInt64(1L << 32),
                    destination: (uint)random.NextInt64(1L << 32));
            (int, int)[] tags = [.. Enumerable.Range(0, random.Next(3)).Select(_ => ((int)EtherType.Vlan, random.Next(65536)))];
            byte[] frame = PacketBytes.Ethernet(isIpv6 ? EtherType.Ipv6 : EtherType.Ipv4, ip, tags);
            byte[] padded = [.. frame, .. new byte[Math.Max(0, 60 - frame.Length)]];

            Packet expected = Packet.ParsePacket(LinkLayers.Ethernet, padded);
            Assert.True(NetworkDatagram.TryParse(LinkType.Ethernet, padded, out NetworkDatagram datagram, out _));

            IPPacket theirIp = expected.Extract<IPPacket>();
            UdpPacket theirUdp = expected.Extract<UdpPacket>();
            Assert.Equal(theirIp.SourceAddress.ToString(), datagram.Source.ToString());
            Assert.Equal(theirIp.DestinationAddress.ToString(), datagram.Destination.ToString());
            Assert.Equal(theirIp.TimeToLive, datagram.TimeToLive);
            Assert.Equal(theirIp is IPv4Packet four ? four.Id : 0u, datagram.IpIdentification);
            Assert.Equal((theirUdp.SourcePort, theirUdp.DestinationPort), (datagram.SourcePort, datagram.DestinationPort));
            Assert.Equal(theirUdp.Length, datagram.UdpLength);
            Octets.Equal(theirUdp.PayloadData ?? [], datagram.Payload);
            Assert.Equal(InnermostVlan(expected), datagram.VlanId);
        }
    }

    [Fact]
    public void Frames_written_by_a_general_packet_library_are_read()
    {
        EthernetPacket frame = new(
            System.Net.NetworkInformation.PhysicalAddress.Parse("02-00-00-00-00-01"),
            System.Net.NetworkInformation.PhysicalAddress.Parse("01-00-5E-7F-00-01"),
            EthernetType.IPv4);
        IPv4Packet ip = new(System.Net.IPAddress.Parse("198.51.100.7"), System.Net.IPAddress.Parse("239.255.0.1"));
        UdpPacket udp = new(5568, 5568) { PayloadData = Vector.Read("sacn_3.bin") };
        ip.PayloadPacket = udp;
        frame.PayloadPacket = ip;
        udp.UpdateCalculatedValues();
        ip.UpdateCalculatedValues();

        Assert.True(NetworkDatagram.TryParse(LinkType.Ethernet, frame.Bytes, out NetworkDatagram datagram, out _));
        Assert.Equal("198.51.100.7", datagram.Source.ToString());
        Octets.Equal(Vector.Read("sacn_3.bin"), datagram.Payload);
    }

    private static int InnermostVlan(Packet frame)
    {
        int vlan = -1;
        for (Packet? packet = frame; packet is not null; packet = packet.PayloadPacket)
        {
            vlan = packet is Ieee8021QPacket tag ? tag.VlanIdentifier : vlan;
        }

        return vlan;
    }
}
