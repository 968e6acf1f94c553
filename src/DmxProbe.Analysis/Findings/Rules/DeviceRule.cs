using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>Polling and answering: pollers out of time, devices that fell silent or merge with somebody unseen (Art-Net 4, 1.4dn).</summary>
internal sealed class DeviceRule : ISurveyRule
{
    private const int EnoughToJudge = 5;
    private const int PollsUnanswered = 3;
    private const double FastestPoll = 2.25; // 2.5 s less a tenth for clocks and threads
    private const double SlowestPoll = 3.3; // 3 s and a tenth
    private static readonly Duration SilentFor = Duration.FromSeconds(9);

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        foreach (PollerSummary poller in snapshot.Pollers)
        {
            if (poller.Intervals is { Count: >= EnoughToJudge } intervals
                && intervals.Median.TotalSeconds is < FastestPoll or > SlowestPoll)
            {
                yield return Polls(poller, intervals);
            }
        }

        foreach (NodeSummary node in snapshot.Nodes)
        {
            if (node.Replies >= PollsUnanswered && node.PollsSince >= PollsUnanswered && node.LastPoll - node.Last > SilentFor)
            {
                yield return Of(node, "device-silent", Severity.Warning) with
                {
                    Text = $"{Name(node)} answered {Words.Count(node.Replies, "time")} and then no more, although it was polled "
                        + $"{Words.Count(node.PollsSince, "time")}: switched off, unplugged or hung.",
                    Measured = "silent for " + Words.Seconds(node.LastPoll - node.Last),
                    Limit = "3 s",
                    From = node.Last,
                    To = node.LastPoll,
                    Action = "Look at its power, its cable and its indicators.",
                };
            }

            if (node.Merging && !Merged(snapshot, node))
            {
                yield return Of(node, "device-merges-unseen", Severity.Warning) with
                {
                    Text = $"{Name(node)} reports that an output merges two senders, and this capture shows one only: another controller sends to it "
                        + "unseen from here.",
                    Measured = Words.Count(node.Replies, "ArtPollReply packet"),
                    Action = "Capture at a mirror of the port of this device to see both.",
                };
            }
        }
    }

    private static bool Merged(SurveySnapshot snapshot, NodeSummary node) => snapshot.Universes.Any(universe =>
        universe.Id.Protocol == UniverseProtocol.ArtNet
        && node.Outputs.Contains(universe.Id.Number)
        && universe.Streams.Count > 1);

    private static Finding Polls(PollerSummary poller, IntervalStatistics intervals) => new()
    {
        Id = "poll-interval",
        Severity = Severity.Info,
        Subject = poller.Address,
        Text = $"{poller.Address} polls every {Words.Seconds(intervals.Median)}: "
            + (intervals.Median.TotalSeconds < FastestPoll
                ? "more often than foreseen, and every device answers each time."
                : "less often than foreseen, so that it is late to notice devices that come and go."),
        Measured = $"median {Words.Seconds(intervals.Median)}, " + Words.Count(intervals.Count, "interval"),
        Limit = "2.5 to 3 s",
        LimitSource = RuleBook.SourceOf("poll-interval"),
        Action = intervals.Median.TotalSeconds < FastestPoll
            ? "If devices stumble, let one controller poll, and more slowly."
            : "Give a device that was switched on that long before it is missed.",
        From = poller.First,
        To = poller.Last,
    };

    private static string Name(NodeSummary node)
    {
        string name = node.LongName.Length > 0 ? node.LongName : node.PortName;
        return name.Length > 0 ? $"'{name}' ({node.Address})" : node.Address;
    }

    private static Finding Of(NodeSummary node, string id, Severity severity) => new()
    {
        Id = id,
        Severity = severity,
        Subject = node.Address,
        Text = "",
        LimitSource = RuleBook.SourceOf(id),
        From = node.First,
        To = node.Last,
    };
}
