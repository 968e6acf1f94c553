using System.Buffers.Binary;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Analysis.Decoding;

/// <summary>
/// Records that hold no UDP datagram to packets that tell about the network: ARP, IGMP, MLD, fragments. Asked only after
/// the record was refused as a datagram, so packets with levels pay nothing for it.
/// </summary>
internal static class NetworkPacketDecoder
{
    private const int PortsLength = 4;

    /// <summary>Pushes the packet if it is of one of those kinds.</summary>
    public static void Decode(in CaptureRecord record, IFrameSink sink)
    {
        if (!LinkHeader.TryFindNetworkLayer(
            record.LinkType, record.Data, out ushort etherType, out int offset, out int vlanId, out _))
        {
            return;
        }

        ReadOnlySpan<byte> network = record.Data[offset..];
        switch (etherType)
        {
            case EtherType.Arp:
                sink.OnNetworkPacket(new NetworkPacket
                {
                    Kind = NetworkPacketKind.Arp,
                    Time = record.Time,
                    Record = record.Number,
                    InterfaceId = record.InterfaceId,
                    VlanId = vlanId,
                    StatedLength = ArpPacket.Length,
                    Payload = network,
                });
                break;
            case EtherType.Ipv4 when Ipv4Packet.TryParse(network, out Ipv4Packet packet, out _):
                Ipv4(in record, vlanId, in packet, sink);
                break;
            case EtherType.Ipv6 when Ipv6Packet.TryParse(network, out Ipv6Packet packet, out _):
                Ipv6(in record, vlanId, in packet, sink);
                break;
            default:
                break;
        }
    }

    private static void Ipv4(in CaptureRecord record, int vlanId, in Ipv4Packet packet, IFrameSink sink)
    {
        if (packet.Protocol != IpProtocol.Igmp && !(packet.Protocol == IpProtocol.Udp && packet.IsFragment))
        {
            return;
        }

        sink.OnNetworkPacket(new NetworkPacket
        {
            Kind = packet.Protocol == IpProtocol.Igmp ? NetworkPacketKind.Igmp : NetworkPacketKind.Fragment,
            Time = record.Time,
            Record = record.Number,
            InterfaceId = record.InterfaceId,
            VlanId = vlanId,
            Source = IpAddress.FromIpv4(packet.Source),
            Destination = IpAddress.FromIpv4(packet.Destination),
            Identification = packet.Identification,
            FragmentOffset = packet.FragmentOffset,
            MoreFragments = packet.MoreFragments,
            StatedLength = packet.TotalLength == 0 ? packet.Payload.Length : packet.TotalLength - packet.HeaderLength,
            IsLighting = packet.FragmentOffset == 0 && IsLighting(packet.Payload),
            Payload = packet.Payload,
        });
    }

    private static void Ipv6(in CaptureRecord record, int vlanId, in Ipv6Packet packet, IFrameSink sink)
    {
        if (packet.Protocol != IpProtocol.Icmpv6 && !(packet.Protocol == IpProtocol.Udp && packet.IsFragment))
        {
            return;
        }

        int fixedHeader = packet.HeaderLength - Ipv6Packet.FixedHeaderLength;
        sink.OnNetworkPacket(new NetworkPacket
        {
            Kind = packet.Protocol == IpProtocol.Icmpv6 ? NetworkPacketKind.Icmpv6 : NetworkPacketKind.Fragment,
            Time = record.Time,
            Record = record.Number,
            InterfaceId = record.InterfaceId,
            VlanId = vlanId,
            Source = IpAddress.FromIpv6(packet.Source),
            Destination = IpAddress.FromIpv6(packet.Destination),
            Identification = packet.Identification,
            FragmentOffset = packet.FragmentOffset,
            MoreFragments = packet.MoreFragments,
            StatedLength = packet.PayloadLength == 0 ? packet.Payload.Length : Math.Max(0, packet.PayloadLength - fixedHeader),
            IsLighting = packet.FragmentOffset == 0 && IsLighting(packet.Payload),
            Payload = packet.Payload,
        });
    }

    private static bool IsLighting(ReadOnlySpan<byte> udp) =>
        udp.Length >= PortsLength
        && (IsPort(BinaryPrimitives.ReadUInt16BigEndian(udp)) || IsPort(BinaryPrimitives.ReadUInt16BigEndian(udp[2..])));

    private static bool IsPort(ushort port) => port is SacnAddressing.Port or ArtNetHeader.Port;
}
