using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: gaps inside packets.</summary>
internal sealed class InterSlotGaps() : LineFigureCause(
    new CauseCard("gaps-inside-packets", CauseGroup.LineTiming, "gaps inside packets")
    {
        Needs = [CauseInputs.Line],
        Test = "Greatest mark between slots of a packet over 100 us in 5 % of the packets or more and over 200 us once (common practice, no source; the standard allows 1 s).",
        NotSeen = "There are no long gaps inside packets",
        Fix = "Use an interface that buffers whole packets.",
        Check = new NextCheck("Look at the interface that makes this line.", 60),
        Cautions = [Caution.Unplugging],
    },
    "interSlot")
{
    /// <inheritdoc/>
    protected override bool Shows(TimingMeasurement figure) => figure is { Median: > 100 } || (figure is { Max: > 200, P95: > 100 });

    /// <inheritdoc/>
    protected override bool IsFault(TimingMeasurement figure) => figure is { Median: > 200 };

    /// <inheritdoc/>
    protected override string Text(TimingMeasurement figure) =>
        FormattableString.Invariant($"{figure.Subject}: up to {figure.Max:N0} us pass between two slots of a packet, {figure.Median:N0} us in the middle: an interface that does not buffer; some receivers give up the packet.");
}
