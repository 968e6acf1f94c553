using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: dimmer at 0.</summary>
internal sealed class MasterDown() : ConditionCause(
    new CauseCard("master-down", CauseGroup.UnitState, "dimmer at 0")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Chart and slots together, looked at up to five times a second; a colour above 0 with the dimmer at 0 for 5 s in one piece, likely from half of the time on (thresholds: proposals, no source).",
        Explains = ["told-dark"],
        Fix = "Raise the dimmer.",
        Check = new NextCheck("Raise its dimmer at the controller.", 10),
        Cautions = [Caution.Raising],
        Frequency = CauseFrequency.Common,
    },
    UnitConditions.MasterDown,
    leastSeconds: 5,
    mostly: 0.5,
    SlotRole.Intensity)
{
    /// <inheritdoc/>
    protected override string Phrase => "a colour is up but its dimmer is at 0";
}
