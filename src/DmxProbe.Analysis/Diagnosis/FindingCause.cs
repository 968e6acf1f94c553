using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>A cause that a rule of the survey proves: its findings are the evidence, their thresholds the test.</summary>
/// <param name="card">What is always true of it.</param>
/// <param name="findings">The findings that prove it (<see cref="Finding.Id"/>).</param>
public abstract class FindingCause(CauseCard card, params string[] findings) : Cause(card)
{
    /// <summary>The findings that prove it (<see cref="Finding.Id"/>).</summary>
    public IReadOnlyList<string> Findings { get; } = findings;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Survey.Findings.Where(finding => Findings.Contains(finding.Id) && Applies(finding, it)).Select(finding => Of(finding, it));
    }

    /// <summary>Whether a finding of these is this cause, where several causes share a finding.</summary>
    protected virtual bool Applies(Finding finding, DiagnosisCase it) => true;

    /// <summary>The state a finding gives.</summary>
    protected virtual CauseState StateOf(Finding finding) => CauseState.Proven;

    private CauseReport Of(Finding finding, DiagnosisCase it) =>
        Report(StateOf(finding), finding.Subject, finding.Text, CauseEvidence.Of(finding)) with
        {
            Severity = finding.Severity,
            Universe = it.UniverseOf(finding.Subject),
            Cautions = finding.Cautions,
            Action = finding.Action,
        };
}
