using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>What is sent against what was joined: multicast that nobody asked for, receivers that nobody sends to.</summary>
internal sealed class ListeningRule : ISurveyRule
{
    // Over this, multicast that nobody asked for troubles slow devices: common practice, no source.
    private const double FloodMegabits = 50;

    private const int PacketOctets = 126 + 8 + 20 + 14;
    private static readonly Duration Enough = Duration.FromSeconds(20);

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        GroupSnapshot groups = snapshot.Network.Groups;
        if (groups.Members.Count == 0 || snapshot is not { First: Timestamp first, Last: Timestamp last } || last - first < Enough)
        {
            yield break;
        }

        HashSet<int> joined = [.. groups.Members.Where(each => each.Universe >= 0).Select(each => each.Universe)];
        UniverseSummary[] unasked =
        [
            .. snapshot.Universes.Where(universe => universe.Id.Protocol == UniverseProtocol.Sacn
                && !joined.Contains(universe.Id.Number)
                && universe.Streams.Any(stream => stream.Frames > stream.UnicastFrames + stream.BroadcastFrames)),
        ];
        if (unasked.Length > 0)
        {
            double megabits = unasked.Sum(Octets) * 8 / (last - first).TotalSeconds / 1e6;
            bool isFlood = megabits > FloodMegabits;
            yield return Of("multicast-nobody-joined", isFlood ? Severity.Warning : Severity.Info, first, last) with
            {
                Text = $"{Words.List(unasked.Select(universe => universe.Id.Label))} reach this point of the network although nobody seen here joined them"
                    + (isFlood ? "; that much unasked traffic slows gateways down." : "."),
                Measured = Words.Invariant($"{unasked.Length} universes, {megabits:0.0} Mbit/s"),
                Limit = Words.Invariant($"{FloodMegabits:0} Mbit/s"),
                Action = isFlood ? "Switch snooping on in the switches, with one querier." : "Nothing while devices follow; with more universes, switch snooping on in the switches, with one querier.",
            };
        }

        int[] alone =
        [
            .. groups.Members
                .Where(each => each.Universe is > 0 and < 64000 && each.Left is null && last - each.First > Enough)
                .Select(each => each.Universe)
                .Distinct()
                .Where(number => !snapshot.Universes.Any(universe => universe.Id == new UniverseId(UniverseProtocol.Sacn, number))
                    && !snapshot.Synchronization.Any(sync => sync.Address == number && sync.Packets > 0))
                .Order(),
        ];
        if (alone.Length > 0)
        {
            string hosts = Words.List(groups.Members.Where(each => alone.Contains(each.Universe)).Select(each => each.Host).Distinct());
            yield return Of("joined-nobody-sends", Severity.Info, first, last) with
            {
                Text = $"{hosts} listen to {Words.List(alone.Select(number => new UniverseId(UniverseProtocol.Sacn, number).Label))}, which nobody sends here.",
                Measured = Words.Count(alone.Length, "universe"),
                Action = "If lights on it stay dark, look whether the sender has this universe switched on, or whether a switch holds it back.",
                Cautions = [Caution.Returning],
            };
        }

        MembershipSummary[] old = [.. groups.Members.Where(each => each is { Version: 1, Universe: >= 0, Group.IsIpv6: false })];
        if (old.Length > 0)
        {
            yield return Of("old-group-version", Severity.Info, old.Min(each => each.First), old.Max(each => each.Last)) with
            {
                Text = $"{Words.List(old.Select(each => each.Host).Distinct())} join sACN groups by IGMP version 1; switches of today may not understand it.",
                Measured = Words.Count(old.Length, "membership"),
                Limit = "version 2 or later",
                Action = "If these devices get no levels, update them, or send to them by unicast.",
            };
        }
    }

    private static double Octets(UniverseSummary universe) =>
        universe.SlotCounts.Sum(count => (double)count.Count * (PacketOctets + count.Value));

    private static Finding Of(string id, Severity severity, Timestamp from, Timestamp to) => new()
    {
        Id = id,
        Severity = severity,
        Subject = "multicast",
        Text = "",
        LimitSource = RuleBook.SourceOf(id),
        From = from,
        To = to,
    };
}
