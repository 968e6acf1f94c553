using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: levels come too slowly.</summary>
internal sealed class RefreshSlowLine() : LineFigureCause(
    new CauseCard("refresh-slow", CauseGroup.LineTiming, "levels come too slowly")
    {
        Needs = [CauseInputs.Line],
        Test = "Under 10 levels a second in the middle (common practice, no source: under 20 steps show, under 10 is bad).",
        NotSeen = "Levels come often enough",
        Fix = "Raise the rate of the sender.",
        Check = new NextCheck("Look at the rate setting of the sender.", 30),
    },
    "silence")
{
    /// <inheritdoc/>
    protected override bool Shows(TimingMeasurement figure) => figure is { Median: > 100 };

    /// <inheritdoc/>
    protected override bool IsFault(TimingMeasurement figure) => true;

    /// <inheritdoc/>
    protected override string Text(TimingMeasurement figure) =>
        FormattableString.Invariant($"{figure.Subject}: levels come every {figure.Median:N0} ms in the middle: fades go in steps.");
}
