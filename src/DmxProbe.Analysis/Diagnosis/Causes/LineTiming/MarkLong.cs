using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: mark after break very long.</summary>
internal sealed class MarkLong() : LineFigureCause(
    new CauseCard("mark-after-break-long", CauseGroup.LineTiming, "mark after break very long")
    {
        Needs = [CauseInputs.Line],
        Test = "Median mark after break over 1 ms (common practice, no source; the standard allows 1 s).",
        NotSeen = "The mark after break is no longer than usual",
        Fix = "Use another interface: this one makes its break in software.",
        Check = new NextCheck("Look at the interface that makes this line.", 60),
        Cautions = [Caution.Unplugging],
    },
    "markAfterBreak")
{
    /// <inheritdoc/>
    protected override bool Shows(TimingMeasurement figure) => figure is { Median: > 1_000 };

    /// <inheritdoc/>
    protected override bool IsFault(TimingMeasurement figure) => false;

    /// <inheritdoc/>
    protected override string Text(TimingMeasurement figure) =>
        FormattableString.Invariant($"{figure.Subject}: the mark after break lasts {figure.Median:N0} us in the middle: an interface that makes it in software; lights may lag.");
}
