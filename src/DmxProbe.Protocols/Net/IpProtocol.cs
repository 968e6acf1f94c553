namespace DmxProbe.Protocols.Net;

/// <summary>Numbers of the IPv4 Protocol field and the IPv6 Next Header field (IANA registry) used here.</summary>
public static class IpProtocol
{
    /// <summary>IPv6 hop-by-hop options.</summary>
    public const byte HopByHop = 0;

    /// <summary>Internet Group Management Protocol: who listens to which group.</summary>
    public const byte Igmp = 2;

    /// <summary>User Datagram Protocol.</summary>
    public const byte Udp = 17;

    /// <summary>IPv6 routing header.</summary>
    public const byte Routing = 43;

    /// <summary>IPv6 fragment header.</summary>
    public const byte Fragment = 44;

    /// <summary>Authentication header.</summary>
    public const byte Authentication = 51;

    /// <summary>ICMP for IPv6; carries MLD.</summary>
    public const byte Icmpv6 = 58;

    /// <summary>IPv6: nothing follows.</summary>
    public const byte NoNextHeader = 59;

    /// <summary>IPv6 destination options.</summary>
    public const byte DestinationOptions = 60;
}
