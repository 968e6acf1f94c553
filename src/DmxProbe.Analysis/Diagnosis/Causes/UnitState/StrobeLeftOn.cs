using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: strobe left on.</summary>
internal sealed class StrobeLeftOn() : ConditionCause(
    new CauseCard("strobe-left-on", CauseGroup.UnitState, "strobe left on")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Chart and slots together, looked at up to five times a second; light up and the shutter in a strobe range for 5 s in one piece, likely from half of the time on (proposals, no source).",
        Fix = "Set the shutter to open.",
        Check = new NextCheck("Set its shutter to open at the controller.", 10),
        Cautions = [Caution.Raising],
        Frequency = CauseFrequency.Common,
    },
    UnitConditions.StrobeRuns,
    leastSeconds: 5,
    mostly: 0.5,
    SlotRole.Shutter)
{
    /// <inheritdoc/>
    protected override string Phrase => "it is told to strobe";
}
