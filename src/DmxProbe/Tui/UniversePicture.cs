using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Tui;

/// <summary>One universe at one moment.</summary>
/// <param name="Summary">What the survey knows.</param>
/// <param name="Worst">Its worst finding; null when it has none.</param>
/// <param name="Senders">Who sends it, whoever is obeyed first.</param>
internal sealed record UniversePicture(UniverseSummary Summary, Finding? Worst, IReadOnlyList<SenderPicture> Senders)
{
    /// <summary>Severity for sorting: -1 when nothing was found.</summary>
    public int Trouble => Worst is null ? -1 : (int)Worst.Severity;
}
