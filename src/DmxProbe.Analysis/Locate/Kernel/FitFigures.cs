namespace DmxProbe.Analysis.Locate;

/// <summary>Figures of a fit; shares are of the structured variance of the trace.</summary>
/// <param name="Unexplained">Share left over.</param>
/// <param name="UnexplainedError">Its standard error.</param>
/// <param name="Own">Share of the unit's own light.</param>
/// <param name="Spill">Share of the other units' light.</param>
/// <param name="Margin">Log-likelihood over the other units' light alone, nats.</param>
/// <param name="Correlated">How many samples stand for one independent one, at least 1.</param>
internal sealed record FitFigures(
    double Unexplained, double UnexplainedError, double Own, double Spill, double Margin, double Correlated);
