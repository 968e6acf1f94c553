using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>A cause that a figure of a line shows.</summary>
/// <param name="card">What is always true of it.</param>
/// <param name="quantities">The figures (<see cref="TimingMeasurement.Quantity"/>).</param>
public abstract class LineFigureCause(CauseCard card, params string[] quantities) : Cause(card)
{
    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (TimingMeasurement figure in Figures(it).Where(figure => figure.StartCode == 0 && Shows(figure)))
        {
            bool beyond = figure.Packets is { OutsideReceive: > 0 };
            LimitRange? limit = figure.Transmit ?? figure.Receive;
            yield return Report(CauseState.Proven, figure.Subject, Text(figure), new CauseEvidence(Text(figure))
            {
                Measured = FormattableString.Invariant($"{figure.Min:0.##} to {figure.Max:0.##} {figure.Unit}, median {figure.Median:0.##}, {figure.Count} measured"),
                Limit = LineAnswer.Limit(limit, figure.Unit),
                LimitSource = limit?.Source ?? "common practice, no source",
                From = IsUndated(figure, it) ? null : it.Survey.First,
                To = IsUndated(figure, it) ? null : it.Survey.Last,
            }) with
            {
                Severity = IsFault(figure) || beyond ? Severity.Fault : Severity.Warning,
                Universe = it.Survey.Universes.Select(universe => universe.Id).Where(id => id.Protocol == UniverseProtocol.Line && figure.Subject.StartsWith(id.Label, StringComparison.Ordinal)).Cast<UniverseId?>().FirstOrDefault(),
            };
        }
    }

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        TimingMeasurement[] figures = [.. Figures(it).Where(figure => figure.StartCode == 0)];
        bool decided = figures.Length > 0 && figures.All(figure => figure is { Min: not null, Count: > 0, Packets: null or { Undecided: 0 } });
        return decided && Card.NotSeen.Length > 0 ? FormattableString.Invariant($"{Card.NotSeen} ({figures.Sum(figure => figure.Count):N0} measured).") : null;
    }

    /// <summary>Whether a figure shows it.</summary>
    protected abstract bool Shows(TimingMeasurement figure);

    /// <summary>Whether it is a fault whoever still copes with it.</summary>
    protected virtual bool IsFault(TimingMeasurement figure) => figure?.Packets is { OutsideTransmit: > 0 };

    /// <summary>What the figure says, one sentence.</summary>
    protected virtual string Text(TimingMeasurement figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        return LineAnswer.Of(figure, LineTimings.Words(figure.Quantity));
    }

    /// <summary>Whether packets are outside a limit below it.</summary>
    protected static bool IsBelow(TimingMeasurement figure) =>
        figure?.Packets is { } packets && packets.OutsideTransmit + packets.OutsideReceive > 0 && figure.Min < ((figure.Transmit ?? figure.Receive)?.Min ?? double.NegativeInfinity);

    /// <summary>Whether packets are outside a limit above it.</summary>
    protected static bool IsAbove(TimingMeasurement figure) =>
        figure?.Packets is { } packets && packets.OutsideTransmit + packets.OutsideReceive > 0 && figure.Max > ((figure.Transmit ?? figure.Receive)?.Max ?? double.PositiveInfinity);

    private IEnumerable<TimingMeasurement> Figures(DiagnosisCase it) =>
        it.Survey.LineFigures.Where(figure => figure.Protocol == UniverseProtocol.Line && quantities.Contains(figure.Quantity));

    // Whether its line is of a recording without a date, beside inputs that have one.
    private static bool IsUndated(TimingMeasurement figure, DiagnosisCase it) =>
        it.Survey.Lines.Any(line => line.Line is { } id && line.First < it.Survey.First && figure.Subject.StartsWith(id.Label + " ", StringComparison.Ordinal));
}
