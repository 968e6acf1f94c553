using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.Mode;

/// <summary>Cause: the coarse slot carries what the fine one should.</summary>
internal sealed class CoarseAndFineSwapped() : Cause(
    new CauseCard("coarse-and-fine-swapped", CauseGroup.Mode, "coarse and fine swapped")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "The coarse slot of a bad unit jumps by more than 200 five times or more, three times as often as its fine slot (what the low byte of a slow move does; thresholds: proposals, no source).",
        NotSeen = "No coarse slot of the bad units runs round and round.",
        Fix = "Swap the two slots in the controller's profile, or set the unit to the mode that the profile is for.",
        Check = new NextCheck("Move it slowly over its whole range and see whether it jerks.", 20),
        Cautions = [Caution.Raising, Caution.Setting],
    })
{
    private const int LeastJumps = 5;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (UnitActivity unit in it.BadUnits.Where(unit => unit.Watched.Mode is not null))
        {
            foreach (ChartSlot slot in unit.Watched.Mode!.Slots.Where(slot => slot.LowSlots.Count > 0))
            {
                int fine = slot.LowSlots[0];
                if (slot.Slot > unit.Slots.Count || fine > unit.Slots.Count || fine < 1)
                {
                    continue;
                }

                SlotActivity high = unit.Slots[slot.Slot - 1], low = unit.Slots[fine - 1];
                if (high.Jumps >= LeastJumps && high.Jumps > 3 * low.Jumps)
                {
                    yield return Report(
                        CauseState.Likely,
                        unit.Watched.Unit.Unit,
                        FormattableString.Invariant($"{unit.Watched.Unit.Unit}: {slot.Function} ({unit.Watched.Unit.Universe}.{unit.Watched.Unit.Address + slot.Slot - 1:000}) runs round {high.Jumps} times while its fine slot moves evenly: coarse and fine are swapped."),
                        new CauseEvidence(FormattableString.Invariant($"Jumps over 200: coarse {high.Jumps}, fine {low.Jumps}; changes: coarse {high.Changes}, fine {low.Changes}."))) with
                    {
                        Units = [unit.Watched.Unit.Unit],
                    };
                    break;
                }
            }
        }
    }
}
