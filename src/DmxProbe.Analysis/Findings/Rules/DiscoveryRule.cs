using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>What sACN sources say they send against what they really send (E1.31-2018 4.3, 6.7.1.1, 8.5, 12).</summary>
internal sealed class DiscoveryRule : ISurveyRule
{
    private static readonly Duration TwoIntervals = Duration.FromSeconds(20);
    private static readonly Duration LongPause = Duration.FromSeconds(12);
    private static readonly Duration Enough = Duration.FromSeconds(25);

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot) =>
        snapshot.Discovery.SelectMany(list => Judge(snapshot, list)).Concat(Absent(snapshot));

    private static IEnumerable<Finding> Judge(SurveySnapshot snapshot, DiscoverySummary list)
    {
        (int Number, StreamSummary Stream)[] sent =
        [
            .. from universe in snapshot.Universes
               where universe.Id.Protocol == UniverseProtocol.Sacn
               from stream in universe.Streams
               where stream.Sender.Index == list.Sender.Index
               select (universe.Id.Number, stream),
        ];
        if (list.Complete)
        {
            HashSet<int> listed = [.. list.Universes];
            int[] missing =
            [
                .. sent.Where(each => !listed.Contains(each.Number)
                        && list.CompleteAt - each.Stream.First > TwoIntervals
                        && each.Stream.Last > list.CompleteAt)
                    .Select(each => each.Number),
            ];
            if (missing.Length > 0)
            {
                yield return Of(list, "discovery-missing-universe", Severity.Warning) with
                {
                    Text = $"{Words.Name(list.Sender)} sends {Labels(missing)} and does not list {(missing.Length == 1 ? "it" : "them")} in its universe "
                        + "discovery: receivers that look there do not find it.",
                    Measured = Words.Count(missing.Length, "universe"),
                    Action = "Where a receiver does not offer the universe, enter its number there by hand; the sender's software is at fault.",
                };
            }

            int[] ended =
            [
                .. sent.Where(each => listed.Contains(each.Number)
                        && (each.Stream.Terminated || each.Stream.Silent)
                        && list.CompleteAt - each.Stream.Last > TwoIntervals)
                    .Select(each => each.Number),
            ];
            if (ended.Length > 0)
            {
                yield return Of(list, "discovery-still-lists", Severity.Info) with
                {
                    Text = $"{Words.Name(list.Sender)} still lists {Labels(ended)} more than 20 s after the last packet.",
                    Measured = Words.Count(ended.Length, "universe"),
                    Limit = "20 s",
                    Action = "Nothing for the lights; do not wait for levels on it.",
                };
            }

            foreach (Finding finding in NotSeen(snapshot, list, sent))
            {
                yield return finding;
            }
        }

        if (list.CrowdedSets > 1 || list.LongestPause > LongPause)
        {
            bool isSlow = list.LongestPause > LongPause;
            yield return Of(list, "discovery-rate", Severity.Info) with
            {
                Text = $"{Words.Name(list.Sender)} sends its universe discovery "
                    + (isSlow
                        ? $"up to {Words.Seconds(list.LongestPause)} apart; new receivers wait that long for it, unless packets were lost."
                        : $"more than twice within 10 s, {Words.Count(list.CrowdedSets, "time")}."),
                Measured = Words.Invariant($"{list.Sets} lists"),
                Limit = "every 10 s",
                Action = isSlow ? "Give a receiver that looks for universes half a minute, or enter the number by hand." : "Nothing for the lights; the sender's software is at fault.",
            };
        }
    }

    private static IEnumerable<Finding> NotSeen(
        SurveySnapshot snapshot, DiscoverySummary list, (int Number, StreamSummary Stream)[] sent)
    {
        if (list.Last - list.First < TwoIntervals)
        {
            yield break;
        }

        int[] unseen =
        [
            .. list.Universes.Where(number => !sent.Any(each => each.Number == number)
                && !snapshot.Synchronization.Any(sync => sync.Address == number)),
        ];
        if (unseen.Length > 0)
        {
            yield return Of(list, "discovery-not-seen", Severity.Info) with
            {
                Text = $"{Words.Name(list.Sender)} lists {Labels(unseen)}, of which nothing is in this capture: it goes by unicast, or a switch does "
                    + "not bring it here.",
                Measured = Words.Count(unseen.Length, "universe"),
                Action = "If it should be here, capture at the receiver's own port, or look whether the sender has an output set to unicast.",
            };
        }
    }

    private static IEnumerable<Finding> Absent(SurveySnapshot snapshot)
    {
        if (snapshot.Discovery.Count == 0)
        {
            yield break; // perhaps no discovery reaches this point at all
        }

        HashSet<int> known = [.. snapshot.Discovery.Select(list => list.Sender.Index)];
        SenderSummary[] quiet =
        [
            .. snapshot.Universes.Where(universe => universe.Id.Protocol == UniverseProtocol.Sacn)
                .SelectMany(universe => universe.Streams)
                .Where(stream => !known.Contains(stream.Sender.Index)
                    && stream.DraftFrames == 0
                    && stream.Frames > stream.UnicastFrames
                    && stream.Last - stream.First > Enough)
                .Select(stream => stream.Sender)
                .DistinctBy(sender => sender.Index),
        ];
        if (quiet.Length > 0)
        {
            yield return new Finding
            {
                Id = "discovery-absent",
                Severity = Severity.Info,
                Subject = Words.List(quiet.Select(Words.Name)),
                Text = $"{Words.List(quiet.Select(Words.Name))} {(quiet.Length == 1 ? "sends" : "send")} no universe discovery, though others do: "
                    + "made for an older edition of the standard; receivers cannot list what they could listen to.",
                Measured = "none in " + Words.Seconds(Enough) + " and more",
                Limit = "every 10 s",
                LimitSource = RuleBook.SourceOf("discovery-absent"),
                Action = "Enter its universes at the receivers by hand.",
                From = snapshot.First ?? default,
                To = snapshot.Last ?? default,
            };
        }
    }

    private static string Labels(int[] numbers) =>
        Words.List(numbers.Select(number => new UniverseId(UniverseProtocol.Sacn, number).Label));

    private static Finding Of(DiscoverySummary list, string id, Severity severity) => new()
    {
        Id = id,
        Severity = severity,
        Subject = Words.Name(list.Sender),
        Text = "",
        LimitSource = RuleBook.SourceOf(id),
        From = list.First,
        To = list.Last,
    };
}
