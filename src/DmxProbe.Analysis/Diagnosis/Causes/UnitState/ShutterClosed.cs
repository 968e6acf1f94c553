using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: shutter closed.</summary>
internal sealed class ShutterClosed() : ConditionCause(
    new CauseCard("shutter-closed", CauseGroup.UnitState, "shutter closed")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Chart and slots together, looked at up to five times a second; dimmer and colour up with the shutter in a closed range for 5 s in one piece, likely from half of the time on (proposals, no source).",
        Explains = ["told-dark"],
        Fix = "Open the shutter.",
        Check = new NextCheck("Set its shutter to open at the controller.", 10),
        Cautions = [Caution.Raising],
        Frequency = CauseFrequency.Common,
    },
    UnitConditions.ShutterShut,
    leastSeconds: 5,
    mostly: 0.5,
    SlotRole.Shutter)
{
    /// <inheritdoc/>
    protected override string Phrase => "there is light to let out, but its shutter is closed";
}
