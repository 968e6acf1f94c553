using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: mark after break too short.</summary>
internal sealed class MarkShort() : LineFigureCause(
    new CauseCard("mark-after-break-short", CauseGroup.LineTiming, "mark after break too short")
    {
        Needs = [CauseInputs.Line],
        Test = "A mark after break shorter than 12 us as sent or 8 us as received (E1.11 (2008), by secondary sources; each packet judged by itself, within what the sampling can tell).",
        NotSeen = "No mark after break is too short",
        Fix = "Set the sender's timing to a slower or safer setting if it has one.",
        Check = new NextCheck("Try the units that misbehave on another sender.", 120),
        Cautions = [Caution.Unplugging],
    },
    "markAfterBreak")
{
    /// <inheritdoc/>
    protected override bool Shows(TimingMeasurement figure) => IsBelow(figure);
}
