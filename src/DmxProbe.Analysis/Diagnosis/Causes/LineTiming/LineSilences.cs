using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: the line goes silent.</summary>
internal sealed class LineSilences() : LineFigureCause(
    new CauseCard("line-silences", CauseGroup.LineTiming, "the line goes silent")
    {
        Needs = [CauseInputs.Line],
        Test = "Over 1 s from one packet of levels to the next (E1.11, from memory, and 1.25 s for receivers, by secondary sources).",
        NotSeen = "The line is never silent for a second",
        Explains = ["refresh-slow"],
        Fix = "Look at what feeds the line: gateway, radio, merge.",
        Check = new NextCheck("Hold the times of the gaps against what happened then.", 60),
        Cautions = [Caution.Returning],
    },
    "silence")
{
    /// <inheritdoc/>
    protected override bool Shows(TimingMeasurement figure) => figure is { Max: > 1_000 };

    /// <inheritdoc/>
    protected override bool IsFault(TimingMeasurement figure) => true;

    /// <inheritdoc/>
    protected override string Text(TimingMeasurement figure) =>
        FormattableString.Invariant($"{figure.Subject}: up to {figure.Max:N0} ms pass without levels: receivers take that for a loss of data.");
}
