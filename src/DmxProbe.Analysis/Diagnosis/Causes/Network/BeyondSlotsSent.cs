using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: units whose slots are not among those sent.</summary>
internal sealed class BeyondSlotsSent() : Cause(
    new CauseCard("beyond-slots-sent", CauseGroup.Network, "too few slots are sent")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet],
        Test = "The longest frame of a universe has fewer slots than the last slot of a unit on it.",
        NotSeen = "Every unit's slots are among those sent.",
        Explains = ["told-dark", "held-at-controller"],
        Fix = "Set the sender to 512 slots, or move these units down.",
        Check = new NextCheck("Look at the slot count setting of the sender.", 30),
        Cautions = [Caution.Setting],
    })
{
    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (var universe in it.Units.Where(unit => unit.Sender is not null && Last(unit) > unit.SlotsSent).GroupBy(unit => unit.Universe))
        {
            UnitActivity[] units = [.. universe.OrderBy(unit => unit.Watched.Unit.Address)];
            UnitActivity first = units[0];
            yield return Report(
                CauseState.Proven,
                first.Universe!.Value.Label,
                FormattableString.Invariant($"{first.Universe.Value.Label} carries {first.SlotsSent} slots, and {Words.Count(units.Length, "unit")} of the sheet {(units.Length == 1 ? "needs" : "need")} more, from {first.Watched.Unit.Unit} ({first.Watched.Unit.Universe}.{first.Watched.Unit.Address:000}) on."),
                new CauseEvidence(FormattableString.Invariant($"{first.Watched.Unit.Unit} needs slots up to {Last(first)}."))
                {
                    Measured = FormattableString.Invariant($"{first.SlotsSent} slots"),
                    Limit = FormattableString.Invariant($"at least {units.Max(Last)}"),
                    LimitSource = "the patch sheet",
                }) with
            {
                Units = [.. units.Select(unit => unit.Watched.Unit.Unit)],
            };
        }
    }

    private static int Last(UnitActivity unit) => Math.Min(unit.Watched.Unit.Address + unit.Watched.Footprint - 1, 512);
}
