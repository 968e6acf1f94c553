using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>
/// Rates, losses, slot counts and priorities of senders that both nights have. What a sender does on many universes at once is one
/// difference; the sender is named where a universe has several.
/// </summary>
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
        List<Figure> figures = [];
        foreach (UniverseSummary now in tonight.Universes)
        {
            if (last.Universes.FirstOrDefault(universe => universe.Id == now.Id) is not UniverseSummary before)
            {
                continue;
            }

            bool isAlone = before.Streams.Count == 1 && now.Streams.Count == 1;
            foreach (StreamSummary stream in now.Streams)
            {
                StreamSummary? same = before.Streams.FirstOrDefault(each => Key(each) == Key(stream)) ?? (isAlone ? before.Streams[0] : null);
                if (same is not null)
                {
                    figures.AddRange(Compare(now.Id, same, stream, isAlone ? "" : Name(stream.Sender)));
                }
            }
        }

        return figures.GroupBy(figure => (figure.Kind, figure.SenderKey, figure.Group)).Select(each => Tell([.. each]));
    }

    private static IEnumerable<Figure> Compare(UniverseId universe, StreamSummary last, StreamSummary tonight, string name)
    {
        Figure figure = new(universe, Key(tonight), name);
        if (last.RunningHz is double before && tonight.RunningHz is double now && before > 0
            && last.RunningIntervals >= FewestIntervals && tonight.RunningIntervals >= FewestIntervals
            && Math.Abs(now / before - 1) >= RateChange)
        {
            yield return figure with { Kind = NightDifferenceKind.Rate, Group = now < before ? "slower" : "faster", Last = before, Tonight = now };
        }

        double lostBefore = Share(last.Frames, last.Sequence.Lost);
        double lostNow = Share(tonight.Frames, tonight.Sequence.Lost);
        if (tonight.Sequence.Lost >= FewestLost && lostNow >= LeastLoss && lostNow > LossGrowth * lostBefore)
        {
            yield return figure with
            {
                Kind = NightDifferenceKind.Loss,
                Last = last.Sequence.Lost,
                Tonight = tonight.Sequence.Lost,
                FramesLast = last.Frames,
                FramesTonight = tonight.Frames,
            };
        }

        if (Usual(last.SlotCounts) is int few && Usual(tonight.SlotCounts) is int many && few != many)
        {
            yield return figure with { Kind = NightDifferenceKind.SlotCount, Group = $"{few} {many}", Last = few, Tonight = many };
        }

        (int priorityBefore, int priorityNow) = (Priority(last), Priority(tonight));
        if (priorityBefore != priorityNow)
        {
            yield return figure with { Kind = NightDifferenceKind.Priority, Group = $"{priorityBefore} {priorityNow}", Last = priorityBefore, Tonight = priorityNow };
        }
    }

    private static NightDifference Tell(Figure[] same)
    {
        Figure first = same[0];
        string of = first.Name.Length > 0 ? $" of {first.Name}" : "";
        (string last, string tonight) = first.Kind switch
        {
            NightDifferenceKind.Rate => (Rate([.. same.Select(each => each.Last)]), Rate([.. same.Select(each => each.Tonight)])),
            NightDifferenceKind.Loss => (Lost(same.Sum(each => (long)each.Last), same.Sum(each => each.FramesLast)), Lost(same.Sum(each => (long)each.Tonight), same.Sum(each => each.FramesTonight))),
            NightDifferenceKind.SlotCount => (Slots(first.Last), Slots(first.Tonight)),
            _ => (PriorityWords(first.Last), PriorityWords(first.Tonight)),
        };
        return new NightDifference
        {
            Kind = first.Kind,
            Subjects = [.. NightUnits.Universes(same.Select(each => each.Universe)).Select(label => label + of)],
            LastNight = last,
            Tonight = tonight,
        };
    }

    private static string Key(StreamSummary stream) =>
        stream.Sender.Cid.Length > 0 ? stream.Sender.Cid : $"{stream.Sender.Address} {stream.Sender.Physical}";

    private static string Name(SenderSummary sender) => (sender.Name.Length, sender.Address.Length) switch
    {
        (0, 0) => "an unnamed sender",
        (0, _) => sender.Address,
        (_, 0) => sender.Name,
        _ => $"{sender.Name} ({sender.Address})",
    };

    private static double Share(long frames, long lost) => frames + lost > 0 ? (double)lost / (frames + lost) : 0;

    private static int? Usual(IReadOnlyList<CountOf> counts) => counts.Count == 0 ? null : (int)counts.MaxBy(count => count.Count)!.Value;

    // Without one a sender counts as 100.
    private static int Priority(StreamSummary stream) => stream.Priorities.Count == 0
        ? 100
        : stream.Priorities.GroupBy(span => span.Value).MaxBy(group => group.Sum(span => (span.To - span.From).TotalSeconds))!.Key;

    private static string Rate(double[] rates)
    {
        (string least, string most) = (Hz(rates.Min()), Hz(rates.Max()));
        return $"{(least == most ? least : $"{least} to {most}")} packets a second while it ran";
    }

    private static string Hz(double rate) => rate.ToString("0.0", CultureInfo.InvariantCulture);

    private static string Lost(long lost, long frames) =>
        string.Create(CultureInfo.InvariantCulture, $"{lost:N0} {(lost == 1 ? "packet" : "packets")} lost ({Share(frames, lost) * 100:0.00} %)");

    private static string Slots(double count) => string.Create(CultureInfo.InvariantCulture, $"{count:0} {(count == 1 ? "slot" : "slots")}");

    private static string PriorityWords(double priority) => string.Create(CultureInfo.InvariantCulture, $"priority {priority:0}");

    private sealed record Figure(UniverseId Universe, string SenderKey, string Name)
    {
        public NightDifferenceKind Kind { get; init; }

        public string Group { get; init; } = "";

        public double Last { get; init; }

        public double Tonight { get; init; }

        public long FramesLast { get; init; }

        public long FramesTonight { get; init; }
    }
}
