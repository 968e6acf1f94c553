using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: break too short.</summary>
internal sealed class BreakShort() : LineFigureCause(
    new CauseCard("break-short", CauseGroup.LineTiming, "break too short")
    {
        Needs = [CauseInputs.Line],
        Test = "A break shorter than 92 us as sent or 88 us as received (E1.11 (2008), by secondary sources; each packet judged by itself, within what the sampling can tell).",
        NotSeen = "No break is too short",
        Fix = "Set the sender's timing to a slower or safer setting if it has one.",
        Check = new NextCheck("Try the units that misbehave on another sender.", 120),
        Cautions = [Caution.Unplugging],
    },
    "break")
{
    /// <inheritdoc/>
    protected override bool Shows(TimingMeasurement figure) => IsBelow(figure);
}
