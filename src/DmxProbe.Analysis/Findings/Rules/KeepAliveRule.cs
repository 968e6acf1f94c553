using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>How often unchanged levels are repeated, against what receivers count on.</summary>
internal sealed class KeepAliveRule : ISurveyRule
{
    private const int EnoughToJudge = 3;

    // Arrival times waver; the median of several is held against the limit plus 2 %.
    private const double Tolerance = 1.02;

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot) => Intervals(snapshot).Concat(Repeats(snapshot));

    private static IEnumerable<Finding> Intervals(SurveySnapshot snapshot) =>
        from universe in snapshot.Universes
        where universe.Id.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet
        from stream in universe.Streams
        let intervals = stream.KeepAliveIntervals
        where intervals is not null && intervals.Count >= EnoughToJudge
        from finding in Judge(universe, stream, intervals)
        select finding;

    // A lost packet makes a run look short: only senders that lost nothing are judged.
    private static IEnumerable<Finding> Repeats(SurveySnapshot snapshot) =>
        from universe in snapshot.Universes
        where universe.Id.Protocol == UniverseProtocol.Sacn
        from stream in universe.Streams
        where stream.Sequence.Lost == 0
            && stream.ShortRunsIntoKeepAlive >= EnoughToJudge
            && stream.ShortRunsIntoKeepAlive > stream.RunsIntoKeepAlive / 2
        select new Finding
        {
            Id = "repeats-before-keep-alive",
            Severity = Severity.Info,
            Subject = universe.Id.Label,
            Text = $"{universe.Id.Label} from {Words.Name(stream.Sender)}: sends fewer than three equal packets before it slows down "
                + Words.Invariant($"({stream.ShortRunsIntoKeepAlive:N0} of {stream.RunsIntoKeepAlive:N0} times)")
                + "; where the last change is lost, lights stay wrong until the next repeat.",
            Measured = Words.Invariant($"{stream.ShortRunsIntoKeepAlive} of {stream.RunsIntoKeepAlive} changes"),
            Limit = "3 packets",
            LimitSource = RuleBook.SourceOf("repeats-before-keep-alive"),
            Action = "If the sender has a setting for it, let it repeat a change more often, or send at a constant rate.",
            From = stream.First,
            To = stream.Last,
            FirstRecord = stream.FirstRecord,
        };

    private static IEnumerable<Finding> Judge(
        UniverseSummary universe, StreamSummary stream, IntervalStatistics intervals)
    {
        bool isSacn = universe.Id.Protocol == UniverseProtocol.Sacn;
        Duration slowest = isSacn ? Duration.FromMilliseconds(1000) : Duration.FromMilliseconds(4000);
        bool isSlow = intervals.Median.TotalSeconds > slowest.TotalSeconds * (isSacn ? Tolerance : 1.1);
        bool isFast = isSacn && intervals.Median.TotalSeconds * Tolerance < 0.8;
        if (!isSlow && !isFast)
        {
            yield break;
        }

        yield return new Finding
        {
            Id = isSlow ? "keep-alive-slow" : "keep-alive-fast",
            Severity = isSlow ? Severity.Warning : Severity.Info,
            Subject = universe.Id.Label,
            Text = $"{universe.Id.Label} from {Words.Name(stream.Sender)}: repeats unchanged levels every "
                + $"{Words.Milliseconds(intervals.Median)} (median); "
                + (isSlow ? "a lost packet or two and receivers may let go of it." : "more often than it has to."),
            Measured = $"median {Words.Milliseconds(intervals.Median)}, longest {Words.Milliseconds(intervals.Maximum)}, "
                + Words.Count(intervals.Count, "interval") + ", network arrival",
            Limit = isSacn ? "800 to 1000 ms" : "about 4 s; 800 to 1000 ms recommended",
            LimitSource = isSacn ? "E1.31-2018 6.6.2" : "Art-Net 4 (1.4dn) page 72",
            Action = isSlow ? "Let the sender repeat unchanged levels about once a second if it can." : "Nothing for the lights; it only costs network.",
            From = stream.First,
            To = stream.Last,
            FirstRecord = stream.FirstRecord,
        };
    }
}
