using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: a programme of the unit is started by its slots.</summary>
internal sealed class ProgrammeRuns() : ConditionCause(
    new CauseCard("programme-runs", CauseGroup.UnitState, "a programme of the unit is started by its slots")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Chart and slots together, looked at up to five times a second; a slot in a programme, sound or automatic range for 5 s in one piece, likely from half of the time on (proposals, no source).",
        Explains = ["colours-overridden", "colours-down", "told-dark"],
        Fix = "Set that slot to its no-function range.",
        Check = new NextCheck("Set its programme slot to 0 at the controller.", 10),
        Cautions = [Caution.Raising],
        Frequency = CauseFrequency.Common,
    },
    UnitConditions.ProgrammeRuns,
    leastSeconds: 5,
    mostly: 0.5,
    SlotRole.Programme)
{
    /// <inheritdoc/>
    protected override string Phrase => "its own programme is started by its slots";
}
