using System.Buffers.Binary;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;
using DmxProbe.Protocols.Wire;
using DmxProbe.Testing.Measuring;

namespace DmxProbe.Protocols.Tests.Net;

public class NetworkDatagramTests
{
    private static readonly byte[] UdpOctets = PacketBytes.Udp(50000, 5568, [1, 2, 3, 4]);

    private static readonly byte[] EthernetIpv4 = PacketBytes.Ethernet(EtherType.Ipv4, PacketBytes.Ipv4(UdpOctets));

    [Fact]
    public void A_plain_datagram_is_read_with_its_addresses()
    {
        Assert.True(NetworkDatagram.TryParse(LinkType.Ethernet, EthernetIpv4, out NetworkDatagram datagram, out WireError error));
        Assert.Equal(WireError.None, error);
        Assert.False(datagram.IsIpv6 || datagram.IsCut || datagram.IsLongerThanPacket);
        Assert.True(datagram.ArePortsKnown);
        Assert.Equal("192.0.2.10", datagram.Source.ToString());
        Assert.Equal("239.255.0.1", datagram.Destination.ToString());
        Assert.Equal((50000, 5568, 12), (datagram.SourcePort, datagram.DestinationPort, datagram.UdpLength));
        Assert.Equal(4, datagram.StatedPayloadLength);
        Assert.Equal((-1, 32, 0x1234u), (datagram.VlanId, datagram.TimeToLive, datagram.IpIdentification));
        Octets.Equal([1, 2, 3, 4], datagram.Payload);
    }

    [Theory]
    [InlineData(LinkType.LinuxSll, "0004 0001 0006 0200000000010000 0800")]
    [InlineData(LinkType.LinuxSll2, "0800 0000 00000002 0001 00 06 0200000000010000")]
    [InlineData(LinkType.Null, "02000000")]
    [InlineData(LinkType.Loop, "00000002")]
    [InlineData(LinkType.Raw, "")]
    [InlineData(LinkType.Ipv4, "")]
    public void Every_link_type_leads_to_the_same_datagram(LinkType link, string header)
    {
        byte[] data = [.. Vector.Hex(header), .. PacketBytes.Ipv4(UdpOctets)];

        Assert.True(NetworkDatagram.TryParse(link, data, out NetworkDatagram datagram, out _));
        Assert.Equal(5568, datagram.DestinationPort);
        Octets.Equal([1, 2, 3, 4], datagram.Payload);
    }

    [Fact]
    public void Synchronization_over_ipv6_is_read_to_its_address()
    {
        // Constructed frame; its UDP checksum 7A06 was accepted by an independent dissector.
        byte[] frame =
        [
            .. Vector.Hex("333383001F1A 020000000001 86DD 60000000 0039 11 20"),
            .. Vector.Hex("20010DB8000000000000000000000010 FF180000000000000000000083001F1A"),
            .. Vector.Hex("15C0 15C0 0039 7A06"),
            .. Vector.Read("sacn_sync.bin"),
        ];

        Assert.Equal(111, frame.Length);
        Assert.True(NetworkDatagram.TryParse(LinkType.Ethernet, frame, out NetworkDatagram datagram, out _));
        Assert.True(datagram.IsIpv6);
        Assert.Equal("2001:db8::10", datagram.Source.ToString());
        Assert.Equal(SacnAddressing.Ipv6Group(7962), datagram.Destination);
        Assert.Equal((5568, 5568, 57), (datagram.SourcePort, datagram.DestinationPort, datagram.UdpLength));
        Assert.Equal((32, 0u), (datagram.TimeToLive, datagram.IpIdentification));
        Assert.True(SacnSyncPacket.TryParse(datagram.Payload, out SacnSyncPacket sync, out _));
        Assert.Equal(7962, sync.SyncAddress);
    }

    [Fact]
    public void One_update_over_both_ip_versions_has_one_payload_and_a_misread_group_shows()
    {
        // A pcap file in microseconds, little endian: 24 octets of header, 16 before each packet.
        byte[] file = Vector.Read("sacn_dual.pcap");
        List<byte[]> payloads = [];
        List<string> addresses = [];
        List<int> misread = [];
        List<int> checksums = [];
        for (int at = 24; at < file.Length;)
        {
            int length = BinaryPrimitives.ReadInt32LittleEndian(file.AsSpan(at + 8));
            byte[] frame = file[(at + 16)..(at + 16 + length)];
            if (NetworkDatagram.TryParse(LinkType.Ethernet, frame, out NetworkDatagram datagram, out _)
                && SacnDataPacket.TryParse(datagram.Payload, out _, out _))
            {
                payloads.Add(datagram.Payload.ToArray());
                checksums.Add(BinaryPrimitives.ReadUInt16BigEndian(frame.AsSpan(datagram.IsIpv6 ? 60 : 40)));
                addresses.Add($"{datagram.Source} > {datagram.Destination}");
                misread.Add(SacnAddressing.TryGetMisreadUniverse(datagram.Destination, out ushort universe) ? universe : -1);
            }

            at += 16 + length;
        }

        Assert.Equal(
            ["192.0.2.10 > 239.255.0.1", "2001:db8::10 > ff18::8300:1", "2001:db8::10 > ff18::83:0:0:1"], addresses);
        Assert.Equal([-1, -1, 1], misread);
        Assert.Equal([0x5D2D, 0x5F55], checksums[..2]); // accepted as right by a general dissector
        Assert.Equal(Vector.Read("sacn_full.bin"), payloads[0]);
        Assert.Equal(payloads[0], payloads[1]);
    }

    [Fact]
    public void The_innermost_vlan_is_told()
    {
        byte[] frame = PacketBytes.Ethernet(
            EtherType.Ipv4, PacketBytes.Ipv4(UdpOctets), (EtherType.ProviderVlan, 0x0064), (EtherType.Vlan, 0xE00A));

        Assert.True(NetworkDatagram.TryParse(LinkType.Ethernet, frame, out NetworkDatagram datagram, out _));
        Assert.Equal(10, datagram.VlanId);
        Assert.Equal("192.0.2.10", datagram.Source.ToString());
    }

    [Fact]
    public void A_first_fragment_is_refused_but_keeps_its_ports()
    {
        byte[] frame = PacketBytes.Ethernet(EtherType.Ipv4, PacketBytes.Ipv4(
            PacketBytes.Udp(6454, 6454, [1, 2, 3, 4], length: 2000), flagsAndOffset: 0x2000));

        Assert.False(NetworkDatagram.TryParse(LinkType.Ethernet, frame, out NetworkDatagram datagram, out WireError error));
        Assert.Equal(new WireError(WireErrorKind.Fragment, 14, 0, 0), error);
        Assert.True(datagram.ArePortsKnown && datagram.IsCut);
        Assert.False(datagram.IsLongerThanPacket);
        Assert.Equal(6454, datagram.DestinationPort);
        Octets.Equal([1, 2, 3, 4], datagram.Payload);
    }

    [Fact]
    public void A_later_fragment_is_refused_and_has_addresses_but_no_ports()
    {
        byte[] ipv4 = PacketBytes.Ethernet(EtherType.Ipv4, PacketBytes.Ipv4(UdpOctets, flagsAndOffset: 0x00B9));
        byte[] ipv6 = PacketBytes.Ethernet(
            EtherType.Ipv6,
            PacketBytes.Ipv6([IpProtocol.Udp, 0, 0x05, 0xA8, 0, 0, 0, 9, .. UdpOctets], IpProtocol.Fragment));

        Assert.False(NetworkDatagram.TryParse(LinkType.Ethernet, ipv4, out NetworkDatagram four, out WireError error4));
        Assert.Equal(new WireError(WireErrorKind.Fragment, 14, 0, 1480), error4);
        Assert.False(four.ArePortsKnown);
        Assert.Equal((0, 0x1234u), (four.DestinationPort, four.IpIdentification));
        Assert.Equal("239.255.0.1", four.Destination.ToString());
        Assert.True(four.Payload.IsEmpty);

        Assert.False(NetworkDatagram.TryParse(LinkType.Ethernet, ipv6, out NetworkDatagram six, out WireError error6));
        Assert.Equal(new WireError(WireErrorKind.Fragment, 14, 0, 1448), error6);
        Assert.Equal((false, 9u, 7), (six.ArePortsKnown, six.IpIdentification, six.TimeToLive));
        Assert.Equal("ff18::8300:1", six.Destination.ToString());
    }

    [Fact]
    public void Other_protocols_are_told_apart_from_damage()
    {
        byte[] arp = PacketBytes.Ethernet(EtherType.Arp, new byte[28]);
        byte[] igmp = PacketBytes.Ethernet(EtherType.Ipv4, PacketBytes.Ipv4(new byte[8], protocol: IpProtocol.Igmp));
        byte[] icmp6 = PacketBytes.Ethernet(EtherType.Ipv6, PacketBytes.Ipv6(new byte[8], nextHeader: 58));

        foreach (byte[] frame in (byte[][])[arp, igmp, icmp6])
        {
            Assert.False(NetworkDatagram.TryParse(LinkType.Ethernet, frame, out _, out WireError error));
            Assert.Equal(WireErrorKind.NotThisProtocol, error.Kind);
        }
    }

    [Fact]
    public void Damage_is_told_with_its_octet_of_the_record()
    {
        byte[] badUdp = Vector.With(EthernetIpv4, 14 + 20 + 4, 0, 7);
        byte[] badIp = Vector.With(EthernetIpv4, 14 + 2, 0, 19);

        Assert.False(NetworkDatagram.TryParse(LinkType.Ethernet, badUdp, out _, out WireError udp));
        Assert.Equal(new WireError(WireErrorKind.Invalid, 38, 8, 7), udp);
        Assert.False(NetworkDatagram.TryParse(LinkType.Ethernet, badIp, out _, out WireError ip));
        Assert.Equal(new WireError(WireErrorKind.Invalid, 16, 20, 19), ip);
    }

    [Fact]
    public void A_datagram_that_states_more_than_its_packet_holds_contradicts_itself()
    {
        byte[] frame = PacketBytes.Ethernet(
            EtherType.Ipv4, PacketBytes.Ipv4(PacketBytes.Udp(1, 2, [1, 2, 3], length: 100)));

        Assert.True(NetworkDatagram.TryParse(LinkType.Ethernet, frame, out NetworkDatagram datagram, out _));
        Assert.True(datagram.IsCut && datagram.IsLongerThanPacket);
        Assert.Equal(92, datagram.StatedPayloadLength);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void At_every_cut_length_the_datagram_is_cut_or_refused(bool isIpv6)
    {
        byte[] whole = isIpv6
            ? PacketBytes.Ethernet(EtherType.Ipv6, PacketBytes.Ipv6(UdpOctets), (EtherType.Vlan, 5))
            : PacketBytes.Ethernet(EtherType.Ipv4, PacketBytes.Ipv4(UdpOctets), (EtherType.Vlan, 5));
        int headers = whole.Length - 4;
        for (int length = 0; length < whole.Length; length++)
        {
            bool parsed = NetworkDatagram.TryParse(
                LinkType.Ethernet, Vector.Cut(whole, length), out NetworkDatagram datagram, out WireError error);

            Assert.Equal(length >= headers, parsed);
            if (parsed)
            {
                Assert.True(datagram.IsCut);
                Assert.False(datagram.IsLongerThanPacket);
                Assert.Equal(length - headers, datagram.Payload.Length);
            }
            else
            {
                Assert.Equal((WireErrorKind.Truncated, length, (long)length), (error.Kind, error.Offset, error.Found));
                Assert.InRange(error.Expected, length + 1, headers);
            }
        }
    }

    [Fact]
    public void The_walk_from_ethernet_to_slots_allocates_nothing()
    {
        byte[] frame = PacketBytes.Ethernet(
            EtherType.Ipv4, PacketBytes.Ipv4(PacketBytes.Udp(5568, 5568, Vector.Read("sacn_full.bin"))));
        byte[] frame6 = PacketBytes.Ethernet(
            EtherType.Ipv6, PacketBytes.Ipv6(PacketBytes.Udp(5568, 5568, Vector.Read("sacn_full.bin"))), (EtherType.Vlan, 3));
        byte[] artNet = PacketBytes.Ethernet(
            EtherType.Ipv4, PacketBytes.Ipv4(PacketBytes.Udp(6454, 6454, Vector.Read("artdmx.bin"))));
        long slots = 0;
        long walks = 0;
        long least = Allocations.Least(() =>
        {
            for (int i = 0; i < 1000; i++)
            {
                slots += Walk(frame) + Walk(frame6) + WalkArtNet(artNet);
                walks++;
            }
        });

        Assert.Equal(0, least);
        Assert.Equal(walks * (513 + 513 + 4 + 291), slots);
    }

    private static long Walk(byte[] frame) =>
        NetworkDatagram.TryParse(LinkType.Ethernet, frame, out NetworkDatagram datagram, out _)
        && SacnDataPacket.TryParse(datagram.Payload, out SacnDataPacket packet, out _)
        && datagram.Source != datagram.Destination
        && packet.Cid != default
        && packet.AreDmpFieldsValid
        && packet.FlagsAndLengthAgree(datagram.StatedPayloadLength)
            ? packet.Slots.Length + packet.Universe
            : 0;

    private static long WalkArtNet(byte[] frame) =>
        NetworkDatagram.TryParse(LinkType.Ethernet, frame, out NetworkDatagram datagram, out _)
        && ArtDmxPacket.TryParse(datagram.Payload, out ArtDmxPacket packet, out _)
        && datagram.Source != datagram.Destination
        && packet.SlotsMissing == 0
            ? packet.Slots.Length + packet.PortAddress
            : 0;
}
