using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.LineTiming;

/// <summary>Cause: more than 512 slots on the line.</summary>
internal sealed class Over512OnLine() : LineFigureCause(
    new CauseCard("more-than-512-slots-on-line", CauseGroup.LineTiming, "more than 512 slots on the line")
    {
        Needs = [CauseInputs.Line],
        Test = "More than 512 slots behind the START code (E1.11: at most 512, by secondary sources).",
        NotSeen = "No packet has more than 512 slots",
        Fix = "Look at what sends on this line.",
        Check = new NextCheck("Try another sender.", 120),
        Cautions = [Caution.Unplugging],
        Frequency = CauseFrequency.Rare,
    },
    "slotCount")
{
    /// <inheritdoc/>
    protected override bool Shows(TimingMeasurement figure) => figure is { Max: > 512 };

    /// <inheritdoc/>
    protected override string Text(TimingMeasurement figure) =>
        FormattableString.Invariant($"{figure.Subject}: packets of up to {figure.Max:0} slots; receivers may take what follows slot 512 for something else.");
}
