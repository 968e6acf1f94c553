using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: the controller tells it to be dark.</summary>
internal sealed class ToldDark() : ConditionCause(
    new CauseCard("told-dark", CauseGroup.UnitState, "the controller tells it to be dark")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Chart and slots together, looked at up to five times a second; no light asked for during 98 % of the time and 10 s in one piece, by neither shutter, dimmer alone nor strobe (proposals, no source).",
        Explains = ["held-at-controller"],
        Fix = "Raise it at the controller: playback, master, blackout, parked value.",
        Check = new NextCheck("See whether its level shows at the controller's output.", 15),
        Cautions = [Caution.Raising],
        Frequency = CauseFrequency.Common,
    },
    UnitConditions.Dark,
    leastSeconds: 10,
    mostly: 0.98,
    SlotRole.Intensity)
{
    /// <inheritdoc/>
    protected override string Phrase => "it is told to give no light";

    /// <inheritdoc/>
    protected override bool Applies(UnitActivity unit) => unit is { IsSent: true } && new[] { UnitConditions.MasterDown, UnitConditions.ShutterShut, UnitConditions.ColoursDown, UnitConditions.StrobeWithoutLight }
        .All(other => unit.Of(other).Total.TotalSeconds * 2 < unit.Followed.TotalSeconds);
}
