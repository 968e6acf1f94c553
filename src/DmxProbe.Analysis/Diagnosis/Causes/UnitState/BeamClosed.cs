using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: something in the beam is closed.</summary>
internal sealed class BeamClosed() : ConditionCause(
    new CauseCard("beam-closed", CauseGroup.UnitState, "something in the beam is closed")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Chart and slots together, looked at up to five times a second; light up and iris, blade or another beam slot in a closed range for 5 s in one piece, likely from half of the time on (proposals, no source).",
        Fix = "Open it.",
        Check = new NextCheck("Set its beam slots to open at the controller.", 10),
        Cautions = [Caution.Raising],
    },
    UnitConditions.BeamClosed,
    leastSeconds: 5,
    mostly: 0.5,
    SlotRole.Beam)
{
    /// <inheritdoc/>
    protected override string Phrase => "there is light, but a slot of its beam is closed";
}
