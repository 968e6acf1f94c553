using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>A device that asks who listens to which group.</summary>
/// <param name="Address">Its address.</param>
/// <param name="IsIpv6">True for MLD, false for IGMP.</param>
/// <param name="Version">Version of IGMP or MLD of its last query.</param>
/// <param name="Queries">General queries seen.</param>
/// <param name="First">When first.</param>
/// <param name="Last">When last.</param>
/// <param name="IntervalSeconds">Seconds between queries as it states them; 0 where it does not say.</param>
/// <param name="AfterAnother">Queries it sent although another querier had asked since its last one.</param>
public sealed record QuerierSummary(
    string Address, bool IsIpv6, int Version, long Queries, Timestamp First, Timestamp Last, int IntervalSeconds, long AfterAnother);
