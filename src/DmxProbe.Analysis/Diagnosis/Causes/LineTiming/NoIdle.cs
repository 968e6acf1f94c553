using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: no rest between packets.</summary>
internal sealed class NoIdle() : LineFigureCause(
    new CauseCard("no-idle-between-packets", CauseGroup.LineTiming, "no rest between packets")
    {
        Needs = [CauseInputs.Line],
        Test = "Mark before break under 20 us in the middle and never 40 us (common practice, no source; the standard asks for none).",
        NotSeen = "There is a rest between packets",
        Fix = "Slow the sender down to 30 to 40 Hz.",
        Check = new NextCheck("Try a slower rate at the sender.", 30),
        Frequency = CauseFrequency.Rare,
    },
    "markBeforeBreak")
{
    /// <inheritdoc/>
    protected override bool Shows(TimingMeasurement figure) => figure is { Median: < 20, Max: < 40 };

    /// <inheritdoc/>
    protected override bool IsFault(TimingMeasurement figure) => false;

    /// <inheritdoc/>
    protected override string Text(TimingMeasurement figure) =>
        FormattableString.Invariant($"{figure.Subject}: the next break follows the last slot within {figure.Median:0.#} us: legal, and too fast for some receivers.");
}
