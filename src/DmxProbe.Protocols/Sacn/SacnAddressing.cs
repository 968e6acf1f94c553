using DmxProbe.Protocols.Net;

namespace DmxProbe.Protocols.Sacn;

/// <summary>Ports, universe numbers and the groups they map to (E1.31-2018 section 9).</summary>
public static class SacnAddressing
{
    /// <summary>ACN_SDT_MULTICAST_PORT: the UDP port of all multicast and the default of unicast (section 9.1.1).</summary>
    public const ushort Port = 5568;

    /// <summary>E131_DISCOVERY_UNIVERSE (Appendix A).</summary>
    public const ushort DiscoveryUniverse = 64214;

    /// <summary>Lowest universe for data (section 9.1.1).</summary>
    public const ushort MinimumUniverse = 1;

    /// <summary>Highest universe for data (section 9.1.1).</summary>
    public const ushort MaximumUniverse = 63999;

    private const uint Ipv4Prefix = 0xEFFF0000; // 239.255.0.0, Table 9-10
    private const ulong Ipv6High = 0xFF18000000000000; // Table 9-12, bytes 1 to 8
    private const ulong Ipv6LowPrefix = 0x83000000; // Table 9-12, bytes 9 to 14
    private const ulong MisreadPrefix = 0x0083000000000000; // ff18::83:0:HI:LO, bytes 9 to 12

    /// <summary>Whether data may be sent on the universe, 1 to 63999 (section 9.1.1).</summary>
    public static bool IsDataUniverse(int universe) => universe is >= MinimumUniverse and <= MaximumUniverse;

    /// <summary>The IPv4 group of a universe or synchronization address (section 9.3.1, Table 9-10).</summary>
    public static IpAddress Ipv4Group(ushort universe) => IpAddress.FromIpv4(Ipv4Prefix | universe);

    /// <summary>The IPv4 group of a universe or synchronization address as a number.</summary>
    public static uint Ipv4GroupNumber(ushort universe) => Ipv4Prefix | universe;

    /// <summary>The IPv6 group of a universe or synchronization address (section 9.3.2, Table 9-12).</summary>
    public static IpAddress Ipv6Group(ushort universe) => IpAddress.FromIpv6(Ipv6High, Ipv6LowPrefix | universe);

    /// <summary>The universe whose group an address is, in either IP version.</summary>
    /// <returns>False where the address is no sACN group.</returns>
    public static bool TryGetUniverse(IpAddress group, out ushort universe)
    {
        universe = unchecked((ushort)group.Low);
        return group.IsIpv6
            ? group.High == Ipv6High && (group.Low & ~0xFFFFUL) == Ipv6LowPrefix
            : (group.Low & ~0xFFFFUL) == Ipv4Prefix;
    }

    /// <summary>
    /// The universe a sender meant with an IPv6 group built from the running text of section 9.3.2 (ff18::83:0:HI:LO)
    /// instead of Table 9-12. No conforming receiver listens to such a group.
    /// </summary>
    /// <returns>False where the address is not of that form.</returns>
    public static bool TryGetMisreadUniverse(IpAddress group, out ushort universe)
    {
        // Low half: 0083 0000 00HI 00LO.
        universe = unchecked((ushort)(((group.Low >> 8) & 0xFF00) | (group.Low & 0xFF)));
        return group.IsIpv6 && group.High == Ipv6High && (group.Low & ~0x00FF00FFUL) == MisreadPrefix;
    }
}
