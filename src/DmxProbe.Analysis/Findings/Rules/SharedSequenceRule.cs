using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>
/// Senders with one sequence count for all their universes (E1.31-2018 6.2.5): each universe then seems to lose packets,
/// and a receiver whose universe is one of many throws packets away.
/// </summary>
internal sealed class SharedSequenceRule : ISurveyRule
{
    private const int EnoughToJudge = 20;

    // Other senders come in between now and then. Where universes are counted in step and packets are lost, only the
    // packets behind a loss look so: not four in five of all.
    private const double NearlyAll = 0.8;

    /// <summary>Whether a stream's gaps come from such a count, and are no losses: its sender has them on every universe.</summary>
    public static bool Applies(SurveySnapshot snapshot, StreamSummary stream)
    {
        if (!HasGaps(stream))
        {
            return false;
        }

        StreamSummary[] all = [.. snapshot.Universes
            .SelectMany(universe => universe.Streams)
            .Where(each => each.Sender.Index == stream.Sender.Index && each.Sequence.Counted > EnoughToJudge)];
        return all.Length > 1 && all.All(HasGaps);
    }

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        var shared =
            from universe in snapshot.Universes
            from stream in universe.Streams
            where Applies(snapshot, stream)
            group (Universe: universe, Stream: stream) by stream.Sender.Index;
        foreach (var sender in shared)
        {
            StreamSummary first = sender.First().Stream;
            yield return new Finding
            {
                Id = "sequence-over-universes",
                Severity = Severity.Warning,
                Subject = Words.Name(first.Sender),
                Text = $"{Words.Name(first.Sender)} has one sequence count for all its universes ("
                    + $"{Words.List(sender.Select(pair => pair.Universe.Id.Label))}): receivers see gaps on each that are no losses, and may "
                    + "discard packets.",
                Measured = Words.Invariant($"{first.FollowsOverUniverses} of {first.Sequence.Counted} packets follow the one before on another universe"),
                Limit = "one count for each universe",
                LimitSource = RuleBook.SourceOf("sequence-over-universes"),
                From = first.First,
                To = sender.Max(pair => pair.Stream.Last),
                FirstRecord = first.FirstRecord,
                Action = "The sender's software is at fault.",
            };
        }
    }

    private static bool HasGaps(StreamSummary stream) =>
        stream.Sequence.Counted > EnoughToJudge && stream.FollowsOverUniverses > NearlyAll * stream.Sequence.Counted;
}
