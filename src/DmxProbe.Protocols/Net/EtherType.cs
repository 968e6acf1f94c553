namespace DmxProbe.Protocols.Net;

/// <summary>EtherType numbers (IEEE registry) that lead to a lighting packet.</summary>
public static class EtherType
{
    /// <summary>Internet Protocol version 4.</summary>
    public const ushort Ipv4 = 0x0800;

    /// <summary>Address Resolution Protocol.</summary>
    public const ushort Arp = 0x0806;

    /// <summary>802.1Q VLAN tag.</summary>
    public const ushort Vlan = 0x8100;

    /// <summary>Internet Protocol version 6.</summary>
    public const ushort Ipv6 = 0x86DD;

    /// <summary>802.1ad outer VLAN tag.</summary>
    public const ushort ProviderVlan = 0x88A8;

    /// <summary>Outer VLAN tag of older switches.</summary>
    public const ushort OldStackedVlan = 0x9100;

    /// <summary>Smallest number that is an EtherType; smaller ones are 802.3 lengths.</summary>
    public const ushort Smallest = 0x0600;

    /// <summary>Whether the number announces a VLAN tag.</summary>
    public static bool IsVlanTag(ushort etherType) => etherType is Vlan or ProviderVlan or OldStackedVlan;
}
