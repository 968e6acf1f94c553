using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Net;

/// <summary>
/// The UDP datagram in a captured packet: link header, VLAN tags and IP header walked in one call. A view over the
/// record's octets.
/// </summary>
public readonly ref struct NetworkDatagram
{
    private static class Field
    {
        // Of the IP header, whose first octet _network begins with; checked by the packet views.
        public const int Ipv4TimeToLive = 8;
        public const int Ipv4Source = 12;
        public const int Ipv4Destination = 16;
        public const int Ipv6HopLimit = 7;
        public const int Ipv6Source = 8;
        public const int Ipv6Destination = 24;
        public const int Ipv6AddressLength = 16;
    }

    private readonly ReadOnlySpan<byte> _network;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private NetworkDatagram(
        ReadOnlySpan<byte> network, int vlanId, bool isIpv6, uint identification, bool ipIsCut, UdpDatagram udp)
    {
        _network = network;
        IpIdentification = identification;
        VlanId = vlanId;
        IsIpv6 = isIpv6;
        ArePortsKnown = true;
        SourcePort = udp.SourcePort;
        DestinationPort = udp.DestinationPort;
        UdpLength = udp.Length;
        UdpChecksum = udp.Checksum;
        Payload = udp.Payload;
        IsCut = ipIsCut || udp.IsCut;
        IsLongerThanPacket = udp.IsCut && !ipIsCut;
    }

    private NetworkDatagram(ReadOnlySpan<byte> network, int vlanId, bool isIpv6, uint identification)
    {
        _network = network;
        IpIdentification = identification;
        VlanId = vlanId;
        IsIpv6 = isIpv6;
    }

    /// <summary>Whether it came over IPv6.</summary>
    public bool IsIpv6 { get; }

    /// <summary>VLAN of the innermost tag, 0 to 4095; -1 without a tag.</summary>
    public int VlanId { get; }

    /// <summary>False only for a fragment that is not the first: it has no UDP header.</summary>
    public bool ArePortsKnown { get; }

    /// <summary>UDP port of the sender.</summary>
    public ushort SourcePort { get; }

    /// <summary>UDP port of the receiver.</summary>
    public ushort DestinationPort { get; }

    /// <summary>Length the UDP header states, its own 8 octets included; 0 where unstated.</summary>
    public ushort UdpLength { get; }

    /// <summary>Checksum as sent, not verified; 0 = none. With the identification it tells a packet seen twice from one sent twice.</summary>
    public ushort UdpChecksum { get; }

    /// <summary>Octets of payload the UDP header states; as many as are present where it states none.</summary>
    public int StatedPayloadLength => UdpLength == 0 ? Payload.Length : UdpLength - UdpDatagram.HeaderLength;

    /// <summary>The payload octets that are both stated and present.</summary>
    public ReadOnlySpan<byte> Payload { get; }

    /// <summary>Fewer octets are present than the IP or UDP header says: the snap length cut them, or see <see cref="IsLongerThanPacket"/>.</summary>
    public bool IsCut { get; }

    /// <summary>The IP packet is whole and yet the UDP header states more than it holds: the sender contradicts itself.</summary>
    public bool IsLongerThanPacket { get; }

    /// <summary>Sender.</summary>
    public IpAddress Source => IsIpv6 ? Ipv6At(Field.Ipv6Source) : Ipv4At(Field.Ipv4Source);

    /// <summary>Receiver or group.</summary>
    public IpAddress Destination => IsIpv6 ? Ipv6At(Field.Ipv6Destination) : Ipv4At(Field.Ipv4Destination);

    /// <summary>The IPv4 address of the sender as a number; 0 over IPv6. Costs less than <see cref="Source"/>.</summary>
    public uint SourceIpv4 => IsIpv6 ? 0 : BinaryPrimitives.ReadUInt32BigEndian(_network[Field.Ipv4Source..]);

    /// <summary>The IPv4 address of the receiver or group as a number; 0 over IPv6. Costs less than <see cref="Destination"/>.</summary>
    public uint DestinationIpv4 => IsIpv6 ? 0 : BinaryPrimitives.ReadUInt32BigEndian(_network[Field.Ipv4Destination..]);

    /// <summary>IPv4 time to live or IPv6 hop limit.</summary>
    public byte TimeToLive => _network[IsIpv6 ? Field.Ipv6HopLimit : Field.Ipv4TimeToLive];

    /// <summary>Identification of the IP packet; for IPv6 0 without a fragment header.</summary>
    public uint IpIdentification { get; }

    /// <summary>Walks a captured packet to its UDP payload.</summary>
    /// <param name="link">Link type of the capture.</param>
    /// <param name="data">The captured octets.</param>
    /// <param name="datagram">
    /// The view; default when refused, except for <see cref="WireErrorKind.Fragment"/>: then addresses, identification
    /// and VLAN are known, the first fragment also has its ports and the payload it holds.
    /// </param>
    /// <param name="error">Why not; its offset counts from the first octet of <paramref name="data"/>.</param>
    /// <returns>Whether there is a whole (or cut) UDP datagram.</returns>
    public static bool TryParse(LinkType link, ReadOnlySpan<byte> data, out NetworkDatagram datagram, out WireError error)
    {
        // Almost every record: one straight run without an error in hand.
        if (link == LinkType.Ethernet && LinkHeader.IsPlainIpv4(data))
        {
            ReadOnlySpan<byte> network = data[LinkHeader.EthernetLength..];
            if (Ipv4Packet.TryView(network, out Ipv4Packet packet)
                && packet.Protocol == IpProtocol.Udp
                && !packet.IsFragment
                && UdpDatagram.TryView(packet.Payload, out UdpDatagram udp))
            {
                datagram = new NetworkDatagram(network, -1, false, packet.Identification, packet.IsCut, udp);
                error = default;
                return true;
            }
        }

        return TryParseAny(link, data, out datagram, out error);
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static bool TryParseAny(LinkType link, ReadOnlySpan<byte> data, out NetworkDatagram datagram, out WireError error)
    {
        datagram = default;
        if (!LinkHeader.TryFindNetworkLayer(link, data, out ushort etherType, out int offset, out int vlanId, out error))
        {
            return false;
        }

        ReadOnlySpan<byte> network = data[offset..];
        switch (etherType)
        {
            case EtherType.Ipv4:
                return TryParseIpv4(network, offset, vlanId, out datagram, out error);
            case EtherType.Ipv6:
                return TryParseIpv6(network, offset, vlanId, out datagram, out error);
            default:
                error = new WireError(WireErrorKind.NotThisProtocol, offset, EtherType.Ipv4, etherType);
                return false;
        }
    }

    private static bool TryParseIpv6(
        ReadOnlySpan<byte> network, int offset, int vlanId, out NetworkDatagram datagram, out WireError error)
    {
        datagram = default;
        if (!Ipv6Packet.TryParse(network, out Ipv6Packet packet, out error))
        {
            error = error.From(offset);
            return false;
        }

        if (packet.Protocol != IpProtocol.Udp)
        {
            error = new WireError(WireErrorKind.NotThisProtocol, offset + packet.HeaderLength, IpProtocol.Udp, packet.Protocol);
            return false;
        }

        return Finish(
            network, offset, vlanId, isIpv6: true, packet.Identification, packet.IsCut, packet.IsFragment,
            packet.FragmentOffset, packet.HeaderLength, packet.Payload, out datagram, out error);
    }

    private static bool TryParseIpv4(
        ReadOnlySpan<byte> network, int offset, int vlanId, out NetworkDatagram datagram, out WireError error)
    {
        datagram = default;
        if (!Ipv4Packet.TryParse(network, out Ipv4Packet packet, out error))
        {
            error = error.From(offset);
            return false;
        }

        if (packet.Protocol != IpProtocol.Udp)
        {
            error = new WireError(WireErrorKind.NotThisProtocol, offset + packet.HeaderLength, IpProtocol.Udp, packet.Protocol);
            return false;
        }

        return Finish(
            network, offset, vlanId, isIpv6: false, packet.Identification, packet.IsCut, packet.IsFragment,
            packet.FragmentOffset, packet.HeaderLength, packet.Payload, out datagram, out error);
    }

    private static bool Finish(
        ReadOnlySpan<byte> network,
        int offset,
        int vlanId,
        bool isIpv6,
        uint identification,
        bool ipIsCut,
        bool isFragment,
        int fragmentOffset,
        int headerLength,
        ReadOnlySpan<byte> payload,
        out NetworkDatagram datagram,
        out WireError error)
    {
        datagram = default;
        if (isFragment && fragmentOffset != 0)
        {
            datagram = new NetworkDatagram(network, vlanId, isIpv6, identification);
            error = new WireError(WireErrorKind.Fragment, offset, 0, fragmentOffset);
            return false;
        }

        if (!UdpDatagram.TryParse(payload, out UdpDatagram udp, out error))
        {
            error = error.From(offset + headerLength);
            return false;
        }

        datagram = new NetworkDatagram(network, vlanId, isIpv6, identification, ipIsCut || isFragment, udp);
        if (isFragment)
        {
            error = new WireError(WireErrorKind.Fragment, offset, 0, fragmentOffset);
        }

        return !isFragment;
    }

    private IpAddress Ipv4At(int offset) =>
        IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(_network[offset..]));

    private IpAddress Ipv6At(int offset) => IpAddress.FromIpv6(_network.Slice(offset, Field.Ipv6AddressLength));
}
