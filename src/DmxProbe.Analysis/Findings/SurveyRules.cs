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
    ];

    /// <summary>The findings of all rules, worst first.</summary>
    public static IReadOnlyList<Finding> Judge(SurveySnapshot snapshot) =>
        [.. All.SelectMany(rule => rule.Judge(snapshot)).OrderByDescending(finding => finding.Severity)];
}
