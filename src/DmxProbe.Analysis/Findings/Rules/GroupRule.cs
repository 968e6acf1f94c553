using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>
/// Multicast without somebody who asks for it: a switch that snoops forgets who listens and stops forwarding, about four
/// minutes after the last report (260 s by RFC 3376 8.4, 255 s in some switches; secondary sources).
/// </summary>
internal sealed class GroupRule : ISurveyRule
{
    private static readonly Duration Forgotten = Duration.FromSeconds(260);
    private static readonly Duration QuerierGone = Duration.FromSeconds(255);
    private static readonly Duration AgedFrom = Duration.FromSeconds(249);
    private static readonly Duration AgedTo = Duration.FromSeconds(265);

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        if (snapshot is not { First: Timestamp first, Last: Timestamp last })
        {
            yield break;
        }

        GroupSnapshot groups = snapshot.Network.Groups;
        StreamSummary[] multicast =
        [
            .. snapshot.Universes.Where(each => each.Id.Protocol == UniverseProtocol.Sacn)
                .SelectMany(universe => universe.Streams)
                .Where(stream => stream.Frames > stream.UnicastFrames + stream.BroadcastFrames),
        ];
        foreach (Finding finding in Aged(snapshot, groups))
        {
            yield return finding;
        }

        if (multicast.Length > 0 && snapshot.Network.SeesNetwork && !Lost(snapshot))
        {
            foreach (Finding finding in Queriers(groups, first, last))
            {
                yield return finding;
            }
        }

        QuerierSummary[] rivals = [.. groups.Queriers.Where(each => each.AfterAnother > 0)];
        if (rivals.Length > 1 || (rivals.Length == 1 && rivals[0].AfterAnother > 1))
        {
            yield return Of("two-queriers", Severity.Info, "multicast", groups.Queriers.Min(each => each.First), last) with
            {
                Text = $"{Words.List(groups.Queriers.Select(each => each.Address))} all ask who listens to which group; one of them should have fallen silent.",
                Measured = Words.Count(groups.Queriers.Count, "querier"),
                Limit = "one",
                Action = "Leave the querier on in one switch only.",
            };
        }
    }

    private static bool Lost(SurveySnapshot snapshot) =>
        snapshot.Events.Any(each => each is { Kind: LinkEventKind.CaptureLoss, B: 1 });

    private static IEnumerable<Finding> Queriers(GroupSnapshot groups, Timestamp first, Timestamp last)
    {
        QuerierSummary[] queriers = [.. groups.Queriers.Where(each => !each.IsIpv6)];
        if (queriers.Length == 0)
        {
            if (last - first > Forgotten)
            {
                bool joined = groups.Members.Count > 0;
                yield return Of("no-querier", joined ? Severity.Warning : Severity.Info, "multicast", first, last) with
                {
                    Text = $"Nobody asked who listens to which group in {Words.Seconds(last - first)}: a switch that snoops stops forwarding sACN "
                        + "about four minutes after a receiver joined.",
                    Measured = "no general query in " + Words.Seconds(last - first),
                    Limit = "one every 125 s; forgotten after 260 s",
                    Action = "Switch a querier on in one switch of this network, or switch snooping off everywhere.",
                };
            }

            yield break;
        }

        Timestamp lastQuery = queriers.Max(each => each.Last);
        bool hasEnded = last - lastQuery > QuerierGone;
        if (hasEnded || groups.Ipv4Pause > QuerierGone)
        {
            Timestamp from = hasEnded ? lastQuery : groups.Ipv4PauseFrom;
            Duration pause = hasEnded ? last - lastQuery : groups.Ipv4Pause;
            yield return Of("querier-silent", Severity.Warning, "multicast", from, from + pause) with
            {
                Text = $"{Words.List(queriers.Select(each => each.Address))} stopped asking who listens for {Words.Seconds(pause)}: a switch that "
                    + "snoops then forgets the receivers and stops forwarding sACN to them.",
                Measured = "no general query for " + Words.Seconds(pause),
                Limit = Words.Seconds(QuerierGone),
                Action = "Look at the switch that has the querier: power, cable, settings.",
            };
        }
    }

    // A stream that ends as long after the last report of its group as a switch remembers.
    private static IEnumerable<Finding> Aged(SurveySnapshot snapshot, GroupSnapshot groups)
    {
        foreach (UniverseSummary universe in snapshot.Universes.Where(each => each.Id.Protocol == UniverseProtocol.Sacn))
        {
            MembershipSummary[] members =
                [.. groups.Members.Where(each => each.Universe == universe.Id.Number && !each.Group.IsIpv6 && each.Left is null)];
            StreamSummary? ended = universe.Streams.All(stream => stream.Silent) ? universe.Streams.MaxBy(stream => stream.Last) : null;
            if (members.Length == 0 || ended is null)
            {
                continue;
            }

            Timestamp report = members.Max(each => each.Last);
            Duration age = ended.Last - report;
            bool asked = groups.Queriers.Any(each => !each.IsIpv6 && each.Last > report);
            if (age >= AgedFrom && age <= AgedTo && !asked)
            {
                yield return Of("multicast-aged-out", Severity.Fault, universe.Id.Label, ended.Last, ended.Last + ProtocolTimes.SacnLoss) with
                {
                    Text = $"{universe.Id.Label} stopped {Words.Seconds(age)} after the last receiver said that it listens, and nobody had asked: a switch "
                        + "forgot the receivers, the sender is not at fault.",
                    Measured = Words.Seconds(age) + " from the last report to the last packet",
                    Limit = "255 to 260 s",
                    FirstRecord = ended.FirstRecord,
                    Action = "Switch a querier on in one switch of this network; joining again helps for four minutes.",
                    Cautions = ["When levels come back, lights jump to them: people clear of moving parts."],
                };
            }
        }
    }

    private static Finding Of(string id, Severity severity, string subject, Timestamp from, Timestamp to) => new()
    {
        Id = id,
        Severity = severity,
        Subject = subject,
        Text = "",
        LimitSource = RuleBook.SourceOf(id),
        From = from,
        To = to,
    };
}
