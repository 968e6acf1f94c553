using DmxProbe.Analysis.Findings;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>A cause that the check of the sheet proves.</summary>
/// <param name="card">What is always true of it.</param>
/// <param name="findings">The findings that prove it (<see cref="PatchFinding.Id"/>).</param>
public abstract class SheetFindingCause(CauseCard card, params string[] findings) : Cause(card)
{
    private const int Most = 8;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.SheetFindings.Where(finding => findings.Contains(finding.Id)).OrderByDescending(finding => finding.Units.Any(it.IsBad)).Take(Most).Select(finding =>
            Report(CauseState.Proven, finding.Units.Count > 0 ? finding.Units[0] : "", finding.Text, new CauseEvidence(finding.Text)) with
            {
                // What may be meant so is a fault only where somebody complains of these units.
                Severity = finding.Severity == PatchSeverity.Fault ? Severity.Fault : Severity.Warning,
                Units = finding.Units,
                Action = finding.Action,
            });
    }
}
