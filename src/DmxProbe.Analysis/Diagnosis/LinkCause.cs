using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>A cause between two places: what comes out is held against what goes in.</summary>
/// <param name="card">What is always true of it.</param>
public abstract class LinkCause(CauseCard card) : Cause(card)
{
    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Taps is { } taps ? Judge(taps) : [];
    }

    /// <summary>What two taps show.</summary>
    protected abstract IEnumerable<CauseReport> Judge(TwoTaps taps);

    /// <summary>A report about a link.</summary>
    protected CauseReport Of(LinkComparison link, TwoTaps taps, Severity severity, string what, params CauseEvidence[] evidence)
    {
        ArgumentNullException.ThrowIfNull(link);
        ArgumentNullException.ThrowIfNull(taps);
        return Report(CauseState.Proven, Way(link.Near, link.Far), $"between {taps.Near} and {taps.Far}, {Way(link.Near, link.Far)}: {what}", evidence) with
        {
            Severity = severity,
            Universe = link.Near ?? link.Far,
        };
    }

    /// <summary>A span as evidence.</summary>
    protected static CauseEvidence Span(string text, Timestamp from, Timestamp to) => new(text) { From = from, To = to };

    /// <summary>The way of a universe: <c>sACN 2</c>, or <c>sACN 2 to line A</c>.</summary>
    protected static string Way(UniverseId? near, UniverseId far) => near is { } from && from != far ? $"{from.Label} to {far.Label}" : far.Label;
}
