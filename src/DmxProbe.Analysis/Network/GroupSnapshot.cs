using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>Who listens to which multicast group, and who asks for it, as far as the capture saw.</summary>
/// <param name="Queriers">Devices that ask, in order of appearance, at most 64.</param>
/// <param name="Members">Hosts that listen, in order of appearance, at most 4,096.</param>
/// <param name="MembersNotListed">Reports beyond those kept.</param>
/// <param name="Ipv4Pause">Longest time without a general IGMP query after one was seen, up to the next; zero with fewer than two.</param>
/// <param name="Ipv4PauseFrom">When it began.</param>
public sealed record GroupSnapshot(
    IReadOnlyList<QuerierSummary> Queriers,
    IReadOnlyList<MembershipSummary> Members,
    long MembersNotListed,
    Duration Ipv4Pause,
    Timestamp Ipv4PauseFrom)
{
    /// <summary>Nothing seen.</summary>
    public static GroupSnapshot Empty { get; } = new([], [], 0, default, default);
}
