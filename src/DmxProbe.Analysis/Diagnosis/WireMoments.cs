using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>What happened on the wire, by time: senders that come, stop, pause or change priority, who is obeyed, marks of people.</summary>
internal static class WireMoments
{
    private static readonly Duration Start = Duration.FromSeconds(3);
    private static readonly Duration Pause = Duration.FromMilliseconds(2_500);

    /// <summary>Everything that happened, by time.</summary>
    public static IReadOnlyList<WireMoment> Of(SurveySnapshot survey)
    {
        ArgumentNullException.ThrowIfNull(survey);
        Timestamp first = survey.First ?? default;
        return
        [
            .. survey.Universes.SelectMany(universe => universe.Streams.SelectMany(stream => Stream(universe, stream, first)).Concat(Obeyed(universe)))
                .Concat(survey.Marks.Select(mark => new WireMoment(mark.Time, $"mark '{mark.Text}'")))
                .OrderBy(moment => moment.Time),
        ];
    }

    private static IEnumerable<WireMoment> Stream(UniverseSummary universe, StreamSummary stream, Timestamp first)
    {
        string who = Words.Name(stream.Sender), what = universe.Id.Label;
        if (stream.First - first > Start)
        {
            yield return new WireMoment(stream.First, $"{who} begins to send {what}");
        }

        if (stream.Terminated)
        {
            yield return new WireMoment(stream.Last, $"{who} ends its stream of {what}");
        }
        else if (stream.Silent)
        {
            yield return new WireMoment(stream.Last, $"{who} stops sending {what} without a word");
        }

        if (stream.Intervals is { } intervals && intervals.Maximum > Pause)
        {
            yield return new WireMoment(stream.LongestSilenceFrom, $"{who} sends nothing on {what} for {Words.Seconds(intervals.Maximum)}");
        }

        foreach ((PrioritySpan before, PrioritySpan now) in stream.Priorities.Zip(stream.Priorities.Skip(1)))
        {
            yield return new WireMoment(now.From, Words.Invariant($"{who} goes from priority {before.Value} to {now.Value} on {what}"));
        }
    }

    private static IEnumerable<WireMoment> Obeyed(UniverseSummary universe)
    {
        // The first span is how it was, not something that happened.
        foreach (ObeyedSpan span in universe.Obeyed.Skip(1).Where(span => span.Senders.Count > 0))
        {
            string who = Words.List(span.Senders.Select(index => universe.Streams.FirstOrDefault(stream => stream.Sender.Index == index) is { } stream ? Words.Name(stream.Sender) : "another sender"));
            yield return new WireMoment(span.From, $"receivers of {universe.Id.Label} obey {who} from here");
        }
    }
}
