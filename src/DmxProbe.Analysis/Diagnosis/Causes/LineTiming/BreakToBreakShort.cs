using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: packets follow each other too closely.</summary>
internal sealed class BreakToBreakShort() : LineFigureCause(
    new CauseCard("packets-too-close", CauseGroup.LineTiming, "packets follow each other too closely")
    {
        Needs = [CauseInputs.Line],
        Test = "Less than 1204 us from break to break as sent or 1196 us as received, as with fewer than 24 slots (E1.11 (2008), by secondary sources; each packet judged by itself, within what the sampling can tell).",
        NotSeen = "Packets are far enough apart",
        Fix = "Pad the packets with slots, or slow the sender down.",
        Check = new NextCheck("Look at the slot count setting of the sender.", 60),
    },
    "breakToBreak")
{
    /// <inheritdoc/>
    protected override bool Shows(TimingMeasurement figure) => IsBelow(figure);
}
