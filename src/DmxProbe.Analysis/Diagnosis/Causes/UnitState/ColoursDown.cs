using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: every colour at 0.</summary>
internal sealed class ColoursDown() : ConditionCause(
    new CauseCard("colours-down", CauseGroup.UnitState, "every colour at 0")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Chart and slots together, looked at up to five times a second; dimmer above 0 with every colour at 0 for 5 s in one piece, likely from half of the time on (proposals, no source).",
        Explains = ["told-dark"],
        Fix = "Raise a colour.",
        Check = new NextCheck("Raise a colour at the controller.", 10),
        Cautions = [Caution.Raising],
    },
    UnitConditions.ColoursDown,
    leastSeconds: 5,
    mostly: 0.5,
    SlotRole.Red,
    SlotRole.Green,
    SlotRole.Blue,
    SlotRole.White)
{
    /// <inheritdoc/>
    protected override string Phrase => "its dimmer is up but every colour is at 0";
}
