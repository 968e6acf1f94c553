using System.Text.Json;

using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Reporting.Json;

/// <summary>The network itself as JSON: who listens, who asks, who polls, who synchronizes, which addresses are disputed.</summary>
internal static class NetworkJson
{
    /// <summary>Writes <c>network</c>, <c>synchronization</c>, <c>artSync</c> and <c>pollers</c>.</summary>
    public static void Write(Utf8JsonWriter json, SurveySnapshot survey)
    {
        NetworkSummary network = survey.Network;
        json.WriteStartObject("network");
        json.WriteBoolean("seen", network.SeesNetwork);
        json.WriteNumber("arpPackets", network.ArpPackets);
        json.Objects("queriers", network.Groups.Queriers, Querier);
        json.Objects("memberships", network.Groups.Members, Membership);
        json.WriteNumber("membershipsNotListed", network.Groups.MembersNotListed);
        json.Objects("conflicts", network.Conflicts, Conflict);
        json.WriteNumber("fragmented", network.Fragments.Datagrams);
        json.WriteNumber("fragmentedWhole", network.Fragments.Whole);
        json.WriteEndObject();
        json.Objects("synchronization", survey.Synchronization, Synchronization);
        json.Objects("artSync", survey.ArtSyncSenders, ArtSync);
        json.Objects("pollers", survey.Pollers, Poller);
    }

    private static void Querier(Utf8JsonWriter json, QuerierSummary querier)
    {
        json.Text("address", querier.Address);
        json.WriteString("protocol", querier.IsIpv6 ? "mld" : "igmp");
        json.WriteNumber("version", querier.Version);
        json.WriteNumber("queries", querier.Queries);
        json.Span(querier.First, querier.Last);
        json.Figure("intervalS", querier.IntervalSeconds == 0 ? null : querier.IntervalSeconds);
    }

    private static void Membership(Utf8JsonWriter json, MembershipSummary member)
    {
        json.Text("group", member.Group.ToString());
        json.Figure("universe", member.Universe < 0 ? null : member.Universe);
        json.Text("host", member.Host);
        json.WriteNumber("version", member.Version);
        json.WriteNumber("reports", member.Reports);
        json.Span(member.First, member.Last);
        json.Time("left", member.Left);
    }

    private static void Conflict(Utf8JsonWriter json, AddressConflict conflict)
    {
        json.Text("address", conflict.Address);
        json.Texts("macs", conflict.Macs);
        json.WriteNumber("changes", conflict.Changes);
        json.WriteBoolean("backAndForth", conflict.IsBackAndForth);
        json.WriteBoolean("oneHost", conflict.AreOneHost);
        json.Span(conflict.First, conflict.Last);
        json.WriteNumber("firstRecord", conflict.FirstRecord);
    }

    private static void Synchronization(Utf8JsonWriter json, SynchronizationSummary sync)
    {
        json.WriteNumber("address", sync.Address);
        json.WriteNumber("packets", sync.Packets);
        json.Texts("senders", sync.Senders.Select(sender => sender.Address));
        json.WriteNumber("lost", sync.Lost);
        json.WriteNumber("discarded", sync.Discarded);
        json.WriteNumber("frames", sync.Frames);
        json.Numbers("universes", sync.Universes);
        json.WriteNumber("frozenFrames", sync.FrozenFrames);
        json.Time("frozenFrom", sync.FrozenFrames == 0 ? null : sync.FrozenFrom);
        json.Time("frozenTo", sync.FrozenFrames == 0 ? null : sync.FrozenTo);
        json.WriteNumber("forcedFrames", sync.ForcedFrames);
    }

    private static void ArtSync(Utf8JsonWriter json, ArtSyncSummary sync)
    {
        json.Text("address", sync.Address);
        json.WriteNumber("packets", sync.Packets);
        json.WriteNumber("ignored", sync.Foreign);
        json.Span(sync.First, sync.Last);
    }

    private static void Poller(Utf8JsonWriter json, PollerSummary poller)
    {
        json.Text("address", poller.Address);
        json.WriteNumber("polls", poller.Polls);
        json.Span(poller.First, poller.Last);
        json.Figure("intervalMs", poller.Intervals?.Median.TotalMilliseconds);
    }
}
