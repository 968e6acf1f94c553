namespace DmxProbe.Analysis.Decoding;

/// <summary>What a <see cref="NetworkPacket"/> holds.</summary>
public enum NetworkPacketKind
{
    /// <summary>ARP: the payload is the ARP packet.</summary>
    Arp,

    /// <summary>IGMP: the payload is the message.</summary>
    Igmp,

    /// <summary>ICMP for IPv6, which carries MLD: the payload is the message.</summary>
    Icmpv6,

    /// <summary>A fragment of an IP datagram that carries UDP.</summary>
    Fragment,
}
