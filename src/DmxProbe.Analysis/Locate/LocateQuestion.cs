using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Locate;

/// <summary>Everything the inference is told.</summary>
/// <param name="Histories">What was captured; all with the same start, at least one.</param>
/// <param name="Trace">The measured light; null where there is none, and other evidence must do.</param>
/// <param name="Modes">The modes that are open, at least one.</param>
/// <param name="Others">The other units of the sheet; may be empty.</param>
/// <param name="Prior">What the sheet and known human errors make likely; may be empty.</param>
public sealed record LocateQuestion(
    IReadOnlyList<SlotHistory> Histories,
    LightTrace? Trace,
    IReadOnlyList<ChartMode> Modes,
    IReadOnlyList<OtherUnit> Others,
    IReadOnlyList<PriorCandidate> Prior)
{
    /// <summary>Log-likelihood of all evidence beside the trace and the reports, nats; null where there is none.</summary>
    public Func<Hypothesis, double>? Also { get; init; }

    /// <summary>What RDM devices say about where the unit reads.</summary>
    public IReadOnlyList<LocateReport> Reports { get; init; } = [];
}
