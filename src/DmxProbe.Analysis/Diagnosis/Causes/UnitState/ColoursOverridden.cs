using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: a macro overrides the colours.</summary>
internal sealed class ColoursOverridden() : ConditionCause(
    new CauseCard("colours-overridden", CauseGroup.UnitState, "a macro overrides the colours")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Chart and slots together, looked at up to five times a second; a macro slot outside its no-function range while colours are sent, 5 s in one piece, likely from half of the time on (proposals, no source).",
        Fix = "Set the macro to no function.",
        Check = new NextCheck("Set its macro to 0 at the controller.", 10),
        Cautions = [Caution.Raising],
        Frequency = CauseFrequency.Common,
    },
    UnitConditions.ColoursOverridden,
    leastSeconds: 5,
    mostly: 0.5,
    SlotRole.Programme)
{
    /// <inheritdoc/>
    protected override string Phrase => "a macro or preset has the say over its colours";
}
