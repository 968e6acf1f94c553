using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Findings;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.Mode;

/// <summary>Cause: only the coarse slot of a movement is sent.</summary>
internal sealed class FineSlotStill() : Cause(
    new CauseCard("fine-slot-still", CauseGroup.Mode, "a profile without fine slots")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "The coarse slot of a bad unit changes 20 times or more and its fine slot never (threshold: proposal, no source).",
        NotSeen = "Where the bad units have fine slots, they move with the coarse ones.",
        Fix = "Use a profile with fine slots at the controller, or set the unit to its mode without them.",
        Check = new NextCheck("Move it slowly over its whole range and look for 256 steps.", 20),
        Cautions = [Caution.Raising, Caution.Setting],
    })
{
    private const int LeastChanges = 20;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return from unit in it.BadUnits
               where unit.Watched.Mode is not null
               let still = unit.Watched.Mode!.Slots.FirstOrDefault(slot => slot.LowSlots.Count > 0 && slot.Slot <= unit.Slots.Count && slot.LowSlots[0] <= unit.Slots.Count && slot.LowSlots[0] > 0
                   && unit.Slots[slot.Slot - 1].Changes >= LeastChanges && unit.Slots[slot.LowSlots[0] - 1].Changes == 0)
               where still is not null
               select Of(unit, still);
    }

    private CauseReport Of(UnitActivity unit, ChartSlot slot) => Report(
        CauseState.Possible,
        unit.Watched.Unit.Unit,
        FormattableString.Invariant($"{unit.Watched.Unit.Unit}: {slot.Function} ({unit.Watched.Unit.Universe}.{unit.Watched.Unit.Address + slot.Slot - 1:000}) moves and its fine slot never does: the controller's profile has no fine slots, so it moves in 256 steps."),
        new CauseEvidence(FormattableString.Invariant($"Changes: coarse {unit.Slots[slot.Slot - 1].Changes}, fine 0."))) with
    {
        Severity = Severity.Warning,
        Units = [unit.Watched.Unit.Unit],
    };
}
