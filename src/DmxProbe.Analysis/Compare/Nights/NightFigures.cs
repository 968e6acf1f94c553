using System.Globalization;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>Rates, losses, slot counts and priorities of senders that both nights have.</summary>
internal static class NightFigures
{
    private const double RateChange = 0.10; // trade practice: a rate 10 % lower is worth a word
    private const long FewestIntervals = 100;
    private const double LeastLoss = 0.001;
    private const double LossGrowth = 3;
    private const long FewestLost = 5;

    /// <summary>Holds two surveys against each other.</summary>
    public static IEnumerable<NightDifference> Compare(SurveySnapshot last, SurveySnapshot tonight)
    {
        foreach (UniverseSummary now in tonight.Universes)
        {
            if (last.Universes.FirstOrDefault(universe => universe.Id == now.Id) is not UniverseSummary before)
            {
                continue;
            }

            foreach (StreamSummary stream in now.Streams)
            {
                StreamSummary? same = before.Streams.FirstOrDefault(each => Key(each) == Key(stream))
                    ?? (before.Streams.Count == 1 && now.Streams.Count == 1 ? before.Streams[0] : null);
                if (same is not null)
                {
                    foreach (NightDifference difference in Compare(now.Id.Label, same, stream))
                    {
                        yield return difference;
                    }
                }
            }
        }
    }

    private static string Key(StreamSummary stream) =>
        stream.Sender.Cid.Length > 0 ? stream.Sender.Cid : $"{stream.Sender.Address} {stream.Sender.Physical}";

    private static IEnumerable<NightDifference> Compare(string label, StreamSummary last, StreamSummary tonight)
    {
        if (last.RunningHz is double before && tonight.RunningHz is double now && before > 0
            && last.RunningIntervals >= FewestIntervals && tonight.RunningIntervals >= FewestIntervals
            && Math.Abs(now / before - 1) >= RateChange)
        {
            yield return Difference(NightDifferenceKind.Rate, label, Hz(before), Hz(now));
        }

        double lostBefore = Share(last);
        double lostNow = Share(tonight);
        if (tonight.Sequence.Lost >= FewestLost && lostNow >= LeastLoss && lostNow > LossGrowth * lostBefore)
        {
            yield return Difference(NightDifferenceKind.Loss, label, Lost(last, lostBefore), Lost(tonight, lostNow));
        }

        if (Usual(last.SlotCounts) is int few && Usual(tonight.SlotCounts) is int many && few != many)
        {
            yield return Difference(NightDifferenceKind.SlotCount, label, Slots(few), Slots(many));
        }

        int? priorityBefore = Priority(last);
        int? priorityNow = Priority(tonight);
        if (priorityBefore != priorityNow)
        {
            yield return Difference(NightDifferenceKind.Priority, label, PriorityWords(priorityBefore), PriorityWords(priorityNow));
        }
    }

    private static NightDifference Difference(NightDifferenceKind kind, string label, string last, string tonight) =>
        new() { Kind = kind, Subjects = [label], LastNight = last, Tonight = tonight };

    private static double Share(StreamSummary stream) =>
        stream.Frames + stream.Sequence.Lost > 0 ? (double)stream.Sequence.Lost / (stream.Frames + stream.Sequence.Lost) : 0;

    private static int? Usual(IReadOnlyList<CountOf> counts) => counts.Count == 0 ? null : (int)counts.MaxBy(count => count.Count)!.Value;

    private static int? Priority(StreamSummary stream) => stream.Priorities.Count == 0
        ? null
        : stream.Priorities.GroupBy(span => span.Value).MaxBy(group => group.Sum(span => (span.To - span.From).TotalSeconds))!.Key;

    private static string Hz(double rate) => string.Create(CultureInfo.InvariantCulture, $"{rate:0.0} packets a second while it ran");

    private static string Lost(StreamSummary stream, double share) =>
        string.Create(CultureInfo.InvariantCulture, $"{stream.Sequence.Lost:N0} packets lost ({share * 100:0.00} %)");

    private static string Slots(int count) => string.Create(CultureInfo.InvariantCulture, $"{count} slots");

    private static string PriorityWords(int? priority) => priority is int value
        ? string.Create(CultureInfo.InvariantCulture, $"priority {value}")
        : "priority 100";
}
