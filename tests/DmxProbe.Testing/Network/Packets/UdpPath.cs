using System.Net;

namespace DmxProbe.Testing.Network.Packets;

/// <summary>From where to where a datagram goes, and how its frame is written.</summary>
public sealed record UdpPath
{
    /// <summary>Sending adapter, 6 octets.</summary>
    public required byte[] SourceMac { get; init; }

    /// <summary>Receiving adapter or group, 6 octets.</summary>
    public required byte[] DestinationMac { get; init; }

    /// <summary>Sender; IPv4 or IPv6, the same as <see cref="Destination"/>.</summary>
    public required IPAddress Source { get; init; }

    /// <summary>Receiver or group.</summary>
    public required IPAddress Destination { get; init; }

    /// <summary>UDP source port.</summary>
    public required int SourcePort { get; init; }

    /// <summary>UDP destination port.</summary>
    public required int DestinationPort { get; init; }

    /// <summary>802.1Q VLAN, or null for none.</summary>
    public int? Vlan { get; init; }

    /// <summary>Time to live or hop limit.</summary>
    public int HopLimit { get; init; } = 64;

    /// <summary>False to leave the UDP checksum 0, which IPv4 allows.</summary>
    public bool Checksum { get; init; } = true;

    /// <summary>Multicast of an sACN universe or synchronization address (E1.31-2018 section 9.3).</summary>
    public static UdpPath ToSacnGroup(Host from, int universe, bool ipv6 = false, int sourcePort = SacnPackets.Port)
    {
        byte high = (byte)(universe >> 8);
        byte low = (byte)(universe & 0xFF);
        return new UdpPath
        {
            SourceMac = from.Mac,
            DestinationMac = ipv6 ? [0x33, 0x33, 0x83, 0, high, low] : [0x01, 0x00, 0x5E, 0x7F, high, low],
            Source = ipv6 ? from.Ipv6 : from.Ipv4,
            Destination = ipv6
                ? new IPAddress([0xFF, 0x18, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0x83, 0, high, low])
                : new IPAddress([239, 255, high, low]),
            SourcePort = sourcePort,
            DestinationPort = SacnPackets.Port,
            HopLimit = 32,
        };
    }

    /// <summary>Unicast over IPv4 from one host to another.</summary>
    public static UdpPath Unicast(Host from, Host to, int port, int? sourcePort = null) => new()
    {
        SourceMac = from.Mac,
        DestinationMac = to.Mac,
        Source = from.Ipv4,
        Destination = to.Ipv4,
        SourcePort = sourcePort ?? port,
        DestinationPort = port,
    };

    /// <summary>Broadcast over IPv4 to the address given.</summary>
    public static UdpPath Broadcast(Host from, IPAddress to, int port) => new()
    {
        SourceMac = from.Mac,
        DestinationMac = [0xFF, 0xFF, 0xFF, 0xFF, 0xFF, 0xFF],
        Source = from.Ipv4,
        Destination = to,
        SourcePort = port,
        DestinationPort = port,
    };
}
