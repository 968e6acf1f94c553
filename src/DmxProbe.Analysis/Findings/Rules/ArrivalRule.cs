using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>Packets of a steady sender that arrive unsteadily, and packets that arrive in heaps, as over radio (common practice, no source).</summary>
internal sealed class ArrivalRule : ISurveyRule
{
    private const int EnoughIntervals = 200;
    private const int EnoughBursts = 3;
    private const double NearlyAlways = 0.95;
    private const double SteadyBand = 0.25;
    private const double MostOfMedian = 3;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot) =>
        from universe in snapshot.Universes
        where universe.Id.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet
        from stream in universe.Streams
        from finding in Judge(universe, stream)
        select finding;

    private static IEnumerable<Finding> Judge(UniverseSummary universe, StreamSummary stream)
    {
        string who = $"{universe.Id.Label} from {Words.Name(stream.Sender)}";
        if (stream.Bursts is { Count: >= EnoughBursts } bursts)
        {
            yield return About(universe, stream, "packets-in-bursts") with
            {
                Text = $"{who}: packets are held back and come in heaps, {Words.Count(bursts.Count, "time")}, up to "
                    + Words.Invariant($"{bursts.Largest} at once after {Words.Milliseconds(bursts.LongestGap)} of nothing; lights stutter. ")
                    + "Radio links do this.",
                Measured = Words.Invariant($"{bursts.Count} bursts of {BurstFinder.Fewest} and more packets within 5 ms"),
                Limit = "none",
                From = bursts.First,
                To = bursts.Last,
                FirstRecord = bursts.FirstRecord,
                Action = "Use a cable instead of radio, or unicast: multicast over radio waits for the slowest.",
            };
        }
        else if (stream.Spread is { } spread && IsSteady(stream, spread) && IsHeldBack(spread))
        {
            yield return About(universe, stream, "unsteady-arrival") with
            {
                Text = $"{who}: sent steadily every {Milliseconds(spread.Median)}, but one packet in a hundred comes "
                    + $"{Milliseconds(spread.NinetyNine)} or more after the one before and the next ones at once: the network holds packets back, fades step.",
                Measured = $"99 % of the intervals under {Milliseconds(spread.NinetyNine)}, median {Milliseconds(spread.Median)}, "
                    + Words.Count(stream.RunningIntervals, "interval") + ", network arrival",
                Limit = "99 % under three times the median",
                Action = "Capture nearer to the sender: if it is steady there, look at the switches or the radio between.",
            };
        }
    }

    // What the network held back comes late and is followed by what piled up behind it. A pause of a sender that had
    // nothing to send is followed by nothing.
    private static bool IsHeldBack(RunningSpread spread) =>
        spread.NinetyNine.TotalSeconds > spread.Median.TotalSeconds * MostOfMedian
        && spread.One.TotalSeconds < spread.Median.TotalSeconds / MostOfMedian;

    // Senders that send on changes have no pace to keep.
    private static bool IsSteady(StreamSummary stream, RunningSpread spread) =>
        stream.RunningIntervals >= EnoughIntervals
        && stream.Intervals is { } all
        && stream.RunningIntervals >= NearlyAlways * all.Count
        && spread.Quarter.TotalSeconds > spread.Median.TotalSeconds * (1 - SteadyBand)
        && spread.ThreeQuarters.TotalSeconds < spread.Median.TotalSeconds * (1 + SteadyBand);

    private static string Milliseconds(Duration duration) => Words.Invariant($"{duration.TotalMilliseconds:0.0} ms");

    private static Finding About(UniverseSummary universe, StreamSummary stream, string id) => new()
    {
        Id = id,
        Severity = Severity.Warning,
        Subject = universe.Id.Label,
        Text = "",
        LimitSource = RuleBook.SourceOf(id),
        From = stream.First,
        To = stream.Last,
        FirstRecord = stream.FirstRecord,
    };
}
