using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: the controller does not move the unit while it moves others.</summary>
internal sealed class HeldAtController() : Cause(
    new CauseCard("held-at-controller", CauseGroup.Network, "the controller does not move it")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Not one slot of a bad unit changes in 10 s or more, while 3 or more slots of the same universe do (thresholds: proposals, no source); patch, parked value, master or selection at the controller.",
        NotSeen = "The slots of the bad units move.",
        Fix = "Look at the controller whether it is patched there, parked, in a master that is down, or not selected.",
        Check = new NextCheck("Move one of its functions at the controller while you capture.", 20),
        Cautions = [Caution.Raising],
        Frequency = CauseFrequency.Common,
    })
{
    private const double LeastSeconds = 10;
    private const int LeastMoving = 3;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        UnitActivity[] still = [.. it.BadUnits.Where(unit => unit.IsSent && unit.Followed.TotalSeconds >= LeastSeconds && !Moves(unit) && Stream(it, unit) is { Moving: >= LeastMoving })];
        if (still.Length == 0)
        {
            yield break;
        }

        UnitActivity first = still[0];
        string who = still.Length == 1 ? first.Watched.Unit.Unit : FormattableString.Invariant($"{first.Watched.Unit.Unit} and {still.Length - 1} more");
        yield return Report(
            CauseState.Likely,
            first.Watched.Unit.Unit,
            FormattableString.Invariant($"{who}: no slot of it moves in {first.Followed.TotalSeconds:0.#} s, while {Stream(it, first)!.Moving} others of {first.Universe!.Value.Label} do: the controller does not move it."),
            [.. still.Take(4).Select(unit => new CauseEvidence(FormattableString.Invariant($"{unit.Watched.Unit.Unit}: {unit.Slots.Count} slots, no change; they hold {string.Join(" ", unit.Slots.Take(12).Select(slot => slot.Value))}{(unit.Slots.Count > 12 ? " ..." : "")}")))]) with
        {
            Units = [.. still.Select(unit => unit.Watched.Unit.Unit)],
        };
    }

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.BadUnits.Any() && it.BadUnits.All(Moves) ? base.Exclusion(it) : null;
    }

    private static bool Moves(UnitActivity unit) => unit.Slots.Where((slot, index) => slot.Changes > 0 && unit.Watched.Mode?.Find(index + 1)?.Role != SlotRole.None).Any();

    private static StreamActivity? Stream(DiagnosisCase it, UnitActivity unit) =>
        unit.Universe is { } id && it.Streams.TryGetValue(id, out IReadOnlyList<StreamActivity>? streams) && streams.Count > 0 ? streams[0] : null;
}
