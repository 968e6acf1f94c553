using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: strobe without light.</summary>
internal sealed class StrobeWithoutLight() : ConditionCause(
    new CauseCard("strobe-without-light", CauseGroup.UnitState, "strobe without light")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Chart and slots together, looked at up to five times a second; the shutter in a strobe range with no light up for 5 s in one piece, likely from 80 % of the time on (proposals, no source).",
        Explains = ["held-at-controller", "told-dark"],
        Fix = "Raise its dimmer and a colour.",
        Check = new NextCheck("Raise its dimmer at the controller.", 10),
        Cautions = [Caution.Raising],
    },
    UnitConditions.StrobeWithoutLight,
    leastSeconds: 5,
    mostly: 0.8,
    SlotRole.Shutter,
    SlotRole.Intensity)
{
    /// <inheritdoc/>
    protected override string Phrase => "it is told to strobe, with nothing up to strobe";
}
