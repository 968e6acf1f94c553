using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a device merges two senders.</summary>
internal sealed class MergeSurprise() : Cause(
    new CauseCard("merge-surprise", CauseGroup.Network, "a device merges two senders")
    {
        Needs = [CauseInputs.Network],
        Test = "A device says in its ArtPollReply that one of its outputs merges (GoodOutputA bit 3; Art-Net 4, 1.4dn).",
        Fix = "Leave one sender, or set the merge mode to the one wanted: highest value or latest.",
        Check = new NextCheck("Look at the merge setting of the device.", 60),
        Cautions = [Caution.Silencing],
    })
{
    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        Finding[] unseen = [.. it.Survey.Findings.Where(finding => finding.Id == "device-merges-unseen")];
        return unseen.Select(finding => Report(CauseState.Proven, finding.Subject, finding.Text, CauseEvidence.Of(finding)) with { Severity = Severity.Warning, Action = finding.Action })
            .Concat(it.Survey.Nodes.Where(node => node.Merging && !unseen.Any(finding => finding.Text.Contains(node.Address, StringComparison.Ordinal))).Select(node => Report(
                CauseState.Proven,
                node.Address,
                $"{Called(node)} says that it merges two senders: a level that one of them holds up cannot be taken down by the other.",
                new CauseEvidence($"{Called(node)}: an output reports a merge.") { From = node.First, To = node.Last }) with
            {
                Severity = Severity.Warning,
            }));
    }

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Survey.Nodes.Count > 0 ? "No device says that it merges." : null;
    }

    private static string Called(NodeSummary node) => node.PortName.Length > 0 ? $"'{node.PortName}' ({node.Address})" : node.Address;
}
