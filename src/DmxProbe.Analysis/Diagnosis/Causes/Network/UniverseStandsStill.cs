using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Diagnosis.Units;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: one universe stands still while others move.</summary>
internal sealed class UniverseStandsStill() : Cause(
    new CauseCard("universe-stands-still", CauseGroup.Network, "the universe stands still while others move")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "No slot of a bad unit's universe changes in 10 s or more, its levels are not all 0, and 3 or more slots of another universe of the sheet change (thresholds: proposals, no source).",
        NotSeen = "The universes of the bad units move, or none does.",
        Explains = ["held-at-controller"],
        Fix = "See whether this universe is frozen, held or unpatched at the controller.",
        Check = new NextCheck("Move anything on this universe at the controller while you capture.", 20),
        Cautions = [Caution.Raising, Caution.Returning],
    })
{
    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        bool othersMove = it.Wire.Values.Any(id => Say(it, id) is { Moving: >= 3 });
        foreach (UniverseId id in it.BadUnits.Select(unit => unit.Universe).OfType<UniverseId>().Distinct().Where(_ => othersMove))
        {
            if (it.Streams.TryGetValue(id, out IReadOnlyList<StreamActivity>? all) && all.All(each => each.Moving == 0) && Say(it, id) is { Followed.TotalSeconds: >= 10 } stream && stream.Slots.Any(slot => slot.Value > 0))
            {
                yield return Report(
                    CauseState.Likely,
                    id.Label,
                    FormattableString.Invariant($"{id.Label} stands still: none of its {stream.Slots.Count} slots changes in {stream.Followed.TotalSeconds:0.#} s, while other universes move."),
                    new CauseEvidence(FormattableString.Invariant($"{stream.Slots.Count(slot => slot.Value > 0)} slots hold a level, none changes."))) with
                {
                    Universe = id,
                };
            }
        }
    }

    /// <summary>The stream that has the say on a universe; null when nobody sends it.</summary>
    internal static StreamActivity? Say(DiagnosisCase it, UniverseId id) => it.Streams.TryGetValue(id, out IReadOnlyList<StreamActivity>? streams) && streams.Count > 0 ? streams[0] : null;
}
