using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Findings;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.UnitState;

/// <summary>Cause: a speed slot at slow.</summary>
internal sealed class SlowSpeedSlot() : Cause(
    new CauseCard("slow-speed-slot", CauseGroup.UnitState, "a speed slot at slow")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "A speed slot of a bad unit, whose chart says fast to slow or slow to fast, never leaves the slow half of that range (proposal, no source).",
        NotSeen = "No speed slot of the bad units stands at slow.",
        Fix = "Set the speed slot to fast.",
        Check = new NextCheck("Set its speed slot to fast at the controller.", 10),
        Cautions = [Caution.Raising],
    })
{
    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (UnitActivity unit in it.BadUnits.Where(unit => unit.Watched.Mode is not null))
        {
            foreach (ChartSlot slot in unit.Watched.Mode!.Slots.Where(slot => slot.Role == SlotRole.Speed && slot.Slot <= unit.Slots.Count))
            {
                SlotActivity told = unit.Slots[slot.Slot - 1];
                if (slot.Ranges.FirstOrDefault(range => told.Value >= range.From && told.Value <= range.To) is { } range && IsSlow(range, told))
                {
                    yield return Report(
                        CauseState.Likely,
                        unit.Watched.Unit.Unit,
                        FormattableString.Invariant($"{unit.Watched.Unit.Unit}: {slot.Function} ({unit.Watched.Unit.Universe}.{unit.Watched.Unit.Address + slot.Slot - 1:000}) stands at {told.Value}, the slow half of '{range.Meaning}'."),
                        new CauseEvidence(FormattableString.Invariant($"Values {told.Least} to {told.Greatest}."))) with
                    {
                        Severity = Severity.Warning,
                        Units = [unit.Watched.Unit.Unit],
                    };
                    break;
                }
            }
        }
    }

    private static bool IsSlow(ChartRange range, SlotActivity told)
    {
        int middle = (range.From + range.To) / 2;
        int fast = range.Meaning.IndexOf("fast", StringComparison.OrdinalIgnoreCase), slow = range.Meaning.IndexOf("slow", StringComparison.OrdinalIgnoreCase);
        return fast >= 0 && slow >= 0 && (fast < slow ? told.Least > middle : told.Greatest < middle);
    }
}
