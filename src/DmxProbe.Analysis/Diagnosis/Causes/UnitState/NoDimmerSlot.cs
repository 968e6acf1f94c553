using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: the mode has no dimmer slot, and every colour is at 0.</summary>
internal sealed class NoDimmerSlot() : ConditionCause(
    new CauseCard("no-dimmer-slot", CauseGroup.UnitState, "a mode without a dimmer, and every colour at 0")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Chart and slots together, looked at up to five times a second; the mode has colours and no dimmer slot, and no colour is above 0 during 98 % of the time and 10 s in one piece (proposals, no source).",
        Explains = ["told-dark", "held-at-controller"],
        Fix = "Raise its colours; a dimmer of it at the controller is one of the profile's own making, or patch it in a mode with a dimmer.",
        Check = new NextCheck("Raise a colour at the controller.", 10),
        Cautions = [Caution.Raising, Caution.Setting],
    },
    UnitConditions.Dark,
    leastSeconds: 10,
    mostly: 0.98,
    SlotRole.Red,
    SlotRole.Green,
    SlotRole.Blue,
    SlotRole.White)
{
    /// <inheritdoc/>
    protected override string Phrase => "its mode has no dimmer slot, and every colour is at 0";

    /// <inheritdoc/>
    protected override bool Applies(UnitActivity unit) =>
        unit is { IsSent: true, Watched.Mode: { } mode } && mode.Slots.Any(slot => slot.Role == SlotRole.Red) && !mode.Slots.Any(slot => slot.Role == SlotRole.Intensity);
}
