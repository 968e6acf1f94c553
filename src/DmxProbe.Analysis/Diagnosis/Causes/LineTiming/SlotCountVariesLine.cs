using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: the number of slots changes on the line.</summary>
internal sealed class SlotCountVariesLine() : LineFigureCause(
    new CauseCard("slot-count-varies-on-line", CauseGroup.LineTiming, "the number of slots changes on the line")
    {
        Needs = [CauseInputs.Line],
        Test = "Packets of START code 0 with different slot counts.",
        NotSeen = "Every packet has the same number of slots",
        Fix = "Set the sender to a fixed number of slots.",
        Check = new NextCheck("See whether the units that lag sit above the shorter count.", 20),
    },
    "slotCount")
{
    /// <inheritdoc/>
    protected override bool Shows(TimingMeasurement figure) => figure is { Min: double least, Max: double most } && least != most && most <= 512;

    /// <inheritdoc/>
    protected override bool IsFault(TimingMeasurement figure) => false;

    /// <inheritdoc/>
    protected override string Text(TimingMeasurement figure) =>
        FormattableString.Invariant($"{figure.Subject}: packets of {figure.Min:0} to {figure.Max:0} slots: units past the shorter ones are updated less often.");
}
