using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>A host that said it listens to a group.</summary>
/// <param name="Group">The group.</param>
/// <param name="Universe">The sACN universe or synchronization address whose group it is; -1 for another group.</param>
/// <param name="Host">The host's address; with older versions the one that spoke for all who listen.</param>
/// <param name="Version">Version of IGMP or MLD of its last report.</param>
/// <param name="Reports">Reports of it.</param>
/// <param name="First">When first.</param>
/// <param name="Last">When last.</param>
/// <param name="Left">When it left; null while it listens.</param>
public sealed record MembershipSummary(
    IpAddress Group, int Universe, string Host, int Version, long Reports, Timestamp First, Timestamp Last, Timestamp? Left);
