using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Findings.Rules;

/// <summary>
/// The causes of <c>diagnose</c> that need neither sheet nor complaint and that no rule here proves: told in the same
/// words, so that a survey and a diagnosis of one input name the same faults.
/// </summary>
internal sealed class CauseRule : ISurveyRule
{
    private const CauseInputs Needed = CauseInputs.Network | CauseInputs.Line | CauseInputs.Serial;

    private static readonly Cause[] Causes =
    [
        .. AllCauses.List.Where(cause => cause is not (FindingCause or PersonCause) && cause.Card.Needs.Any(needs => (needs & ~Needed) == 0)),
    ];

    public IEnumerable<Finding> Judge(SurveySnapshot snapshot)
    {
        // What is outside a limit is told by the rule of limits, and a merge by that of devices.
        Finding[] before = [.. new LineTimingRule().Judge(snapshot), .. new DeviceRule().Judge(snapshot)];
        HashSet<string> told = [.. before.Select(finding => finding.Text)];
        DiagnosisCase it = new(snapshot with { Findings = before }, []);
        return Causes.Where(cause => cause.CanJudge(it.Inputs)).SelectMany(cause => cause.Find(it)).Where(report => !told.Contains(report.Text)).Select(Of);
    }

    private static Finding Of(CauseReport report)
    {
        CauseEvidence? shown = report.Evidence.Count > 0 ? report.Evidence[0] : null;
        return new Finding
        {
            Id = report.Cause.Id,
            Severity = report.Severity,
            Subject = report.Subject,
            Text = report.Text,
            Measured = shown?.Measured ?? "",
            Limit = shown?.Limit ?? "",
            LimitSource = shown?.LimitSource ?? "",
            From = shown?.From ?? default,
            To = shown?.To ?? default,
            FirstRecord = shown?.FirstRecord ?? 0,
            Action = report.WhatToDo,
            Cautions = report.WhatToMind,
        };
    }
}
