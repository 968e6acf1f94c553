using DmxProbe.Analysis.Findings.Rules;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings;

/// <summary>All rules that a survey is held against.</summary>
public static class SurveyRules
{
    /// <summary>The rules, in the order in which findings of equal severity are shown.</summary>
    public static IReadOnlyList<ISurveyRule> All { get; } =
    [
        new EqualPriorityRule(),
        new ArtNetSendersRule(),
        new SharedIdentityRule(),
        new LineRule(),
        new LineTimingRule(),
        new RdmRule(),
        new RdmTrafficRule(),
        new AddressRule(),
        new SynchronizationRule(),
        new ArtSyncRule(),
        new RepeatedPacketsRule(),
        new SequenceOrderRule(),
        new SharedSequenceRule(),
        new LostPacketsRule(),
        new SilenceRule(),
        new SacnRulesRule(),
        new GroupRule(),
        new ListeningRule(),
        new ArrivalRule(),
        new DeviceRule(),
        new DevicePortRule(),
        new ArtNetRulesRule(),
        new SendingPathRule(),
        new DiscoveryRule(),
        new ArtNetLengthRule(),
        new KeepAliveRule(),
        new SerialQualityRule(),
        new CaptureQualityRule(),
        new PriorityTakeoverRule(),
        new PollReplyRule(),
        new UnusualFramesRule(),
        new StartCodeRule(),
        new CauseRule(),
    ];

    // What is said of a line whose time base is in doubt: that, and why it may be.
    private static readonly HashSet<string> SaidInDoubt = ["line-rate-doubtful", "line-sampled-coarsely"];

    /// <summary>The findings of all rules, worst first. A line whose time base is in doubt is accused of nothing else.</summary>
    public static IReadOnlyList<Finding> Judge(SurveySnapshot snapshot)
    {
        string[] doubted = [.. snapshot.Lines.Where(channel => channel.IsTimeBaseDoubtful).Select(channel => channel.Line?.Label).OfType<string>()];
        return
        [
            .. All.SelectMany(rule => rule.Judge(snapshot))
                .Where(finding => doubted.Length == 0 || SaidInDoubt.Contains(finding.Id) || !Array.Exists(doubted, line => IsAbout(finding, line)))
                .Select(finding => snapshot.Inputs.Count > 1 ? finding with { FirstRecord = 0 } : finding) // of several files merged it is a number in none of them
                .OrderByDescending(finding => finding.Severity),
        ];
    }

    private static bool IsAbout(Finding finding, string line) =>
        finding.Subject == line || finding.Subject.StartsWith(line + " ", StringComparison.Ordinal);
}
