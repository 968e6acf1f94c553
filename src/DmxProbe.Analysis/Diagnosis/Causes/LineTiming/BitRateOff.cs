using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: bit rate off.</summary>
internal sealed class BitRateOff() : LineFigureCause(
    new CauseCard("bit-rate-off", CauseGroup.LineTiming, "bit rate off")
    {
        Needs = [CauseInputs.Line],
        Test = "A bit outside 3.92 to 4.08 us, mean of a packet (computed from 245 to 255 kbit/s, E1.11 by secondary sources).",
        NotSeen = "Bits last as long as they should",
        Fix = "Replace or mend the sender: its clock is off.",
        Check = new NextCheck("Try the units that misbehave on another sender.", 120),
        Cautions = [Caution.Unplugging],
    },
    "slotTime",
    "bitTime")
{
    /// <inheritdoc/>
    protected override bool Shows(TimingMeasurement figure) => IsBelow(figure) || IsAbove(figure);
}
