using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.Cable;

/// <summary>Cause: bits are lopsided.</summary>
internal sealed class BitSkew() : LineFigureCause(
    new CauseCard("one-leg-open", CauseGroup.Cable, "bits are lopsided")
    {
        Needs = [CauseInputs.Line],
        Test = "A single low bit over 0.5 us longer or shorter than a single high one, mean of each packet (common practice, no source): one leg open, a long microphone cable, a tired driver.",
        NotSeen = "Low and high bits last alike",
        Explains = ["framing-errors", "bit-rate-off"],
        Fix = "Repair or replace the cable between the last good place and here.",
        Check = new NextCheck("Record at the start of the line: if it is even there, the cable is at fault.", 180, Ladder: true),
        Cautions = [Caution.Unplugging],
    },
    "bitSkew")
{
    /// <inheritdoc/>
    protected override bool Shows(TimingMeasurement figure) => Math.Abs(figure?.Median ?? 0) > 0.5;

    /// <inheritdoc/>
    protected override bool IsFault(TimingMeasurement figure) => Math.Abs(figure?.Median ?? 0) > 1;

    /// <inheritdoc/>
    protected override string Text(TimingMeasurement figure) =>
        FormattableString.Invariant($"{figure.Subject}: low bits last {figure.Median:+0.00;-0.00} us longer than high ones in the middle: one leg open, a microphone cable, or a tired driver.");
}
