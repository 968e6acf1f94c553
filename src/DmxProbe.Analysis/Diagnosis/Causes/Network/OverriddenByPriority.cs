using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: the sender that moves the unit has a lower priority than another.</summary>
internal sealed class OverriddenByPriority() : Cause(
    new CauseCard("overridden-by-priority", CauseGroup.Network, "a sender of higher priority has the say")
    {
        Needs = [CauseInputs.Network | CauseInputs.Sheet | CauseInputs.BadUnits],
        Test = "Two or more slots of a bad unit move in the stream of a lower-priority sender, and none in the stream that is obeyed (E1.31-2018 6.2.3; two slots, or all it has: proposal, no source).",
        NotSeen = "No sender of lower priority moves the bad units otherwise than the one obeyed.",
        Explains = ["held-at-controller", "told-dark", "priority-takeover"],
        Fix = "Set the priorities as they are meant: the sender that should have the say above the other.",
        Check = new NextCheck("Ask which of these senders should have the say.", 15),
        Cautions = [Caution.Silencing],
    })
{
    // Who came first by a moment did not decide.
    private const double Handover = 3;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (IGrouping<Decoding.UniverseId, UnitActivity> universe in it.BadUnits.Where(unit => unit.Universe is not null && unit.Sender is not null).GroupBy(unit => unit.Universe!.Value))
        {
            UniverseSummary? summary = it.Summary(universe.Key);
            if (summary is null || !it.Streams.TryGetValue(universe.Key, out IReadOnlyList<StreamActivity>? streams) || streams.Count < 2)
            {
                continue;
            }

            // Who shares the say is another cause.
            int[] deciding = [.. summary.Obeyed.Where(span => (span.To - span.From).TotalSeconds >= Handover).SelectMany(span => span.Senders)];
            foreach (StreamActivity other in streams.Skip(1).Where(stream => !deciding.Contains(stream.Sender.Index)))
            {
                UnitActivity[] units =
                [
                    .. universe.Where(unit => Moving(streams[0], unit) == 0 && Moving(other, unit) >= Math.Min(2, unit.Watched.Footprint)),
                ];
                if (units.Length == 0 || streams[0].Moving == 0)
                {
                    continue;
                }

                yield return Report(
                    CauseState.Likely,
                    universe.Key.Label,
                    $"{universe.Key.Label}: {Words.Name(other.Sender)} moves {units[0].Watched.Unit.Unit}, but {Words.Name(streams[0].Sender)} has the higher priority and does not: receivers obey the latter.",
                    new CauseEvidence(FormattableString.Invariant($"{Moving(other, units[0])} of {units[0].Watched.Footprint} slots of {units[0].Watched.Unit.Unit} move in the ignored stream."))) with
                {
                    Units = [.. units.Select(unit => unit.Watched.Unit.Unit)],
                };
            }
        }
    }

    private static int Moving(StreamActivity stream, UnitActivity unit) => stream.MovingIn(unit.Watched.Unit.Address, unit.Watched.Footprint);
}
