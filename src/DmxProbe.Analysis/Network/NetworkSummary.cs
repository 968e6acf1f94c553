namespace DmxProbe.Analysis.Network;

/// <summary>What a capture tells of the network itself: groups, addresses, fragments.</summary>
public sealed record NetworkSummary
{
    /// <summary>Nothing seen.</summary>
    public static NetworkSummary Empty { get; } = new();

    /// <summary>Multicast groups: who listens, who asks.</summary>
    public GroupSnapshot Groups { get; init; } = GroupSnapshot.Empty;

    /// <summary>Addresses that two adapters claimed.</summary>
    public IReadOnlyList<AddressConflict> Conflicts { get; init; } = [];

    /// <summary>ARP packets seen.</summary>
    public long ArpPackets { get; init; }

    /// <summary>Lighting datagrams in fragments.</summary>
    public FragmentSnapshot Fragments { get; init; } = FragmentSnapshot.None;

    /// <summary>
    /// True when the capture shows traffic of the network itself (ARP, IGMP, MLD), so that what is missing of it can mean
    /// something; false for what a socket hears.
    /// </summary>
    public bool SeesNetwork { get; init; }
}
