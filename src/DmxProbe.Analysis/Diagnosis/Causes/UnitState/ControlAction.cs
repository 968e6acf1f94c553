using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: a control slot resets it.</summary>
internal sealed class ControlAction() : ConditionCause(
    new CauseCard("control-action", CauseGroup.UnitState, "a control slot resets it")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Chart and slots together, looked at up to five times a second; a slot in a reset, lamp or calibration range for 1 s in one piece (charts ask for 1 to 5 s).",
        Fix = "Keep the control slot in its no-function range; take it out of masters and effects.",
        Check = new NextCheck("Look what moves its control slot at the controller.", 30),
        Cautions = [Caution.Raising],
    },
    UnitConditions.ControlAction,
    leastSeconds: 1,
    mostly: 0,
    SlotRole.Control)
{
    /// <inheritdoc/>
    protected override string Phrase => "its control slot asks for a reset, lamp or calibration";
}
