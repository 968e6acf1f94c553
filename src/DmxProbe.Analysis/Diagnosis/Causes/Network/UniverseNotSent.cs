using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a universe of the sheet that nobody sends.</summary>
internal sealed class UniverseNotSent() : Cause(
    new CauseCard("universe-not-sent", CauseGroup.Network, "nobody sends the universe")
    {
        Needs = [CauseInputs.Network | CauseInputs.Sheet],
        Test = "A universe of the sheet has not one frame of levels in the capture. Likely and not proven: a capture hears unicast and multicast only where they pass.",
        NotSeen = "Every universe of the sheet is sent.",
        Fix = "See that the controller's output for this universe is on and goes to this network; capture where its packets pass.",
        Check = new NextCheck("See whether the controller shows this universe as output, and to which address.", 20),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Common,
    })
{
    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (IGrouping<int, UnitActivity> universe in it.Units.GroupBy(unit => unit.Watched.Unit.Universe).Where(group => IsAbsent(it, group.Key)).OrderBy(group => group.Key))
        {
            UnitActivity[] units = [.. universe];
            string wire = units[0].Universe is { } id ? $" ({id.Label})" : "";
            yield return Report(
                CauseState.Likely,
                FormattableString.Invariant($"universe {universe.Key} of the sheet"),
                FormattableString.Invariant($"nobody sends universe {universe.Key} of the sheet{wire} in this capture; {Words.Count(units.Length, "unit")} of it {(units.Length == 1 ? "hears" : "hear")} nothing, from {units[0].Watched.Unit.Unit} on."),
                new CauseEvidence(FormattableString.Invariant($"Not one frame of levels for universe {universe.Key} in {it.Length.TotalSeconds:0.#} s; captured were {Words.List(it.Survey.Universes.Select(known => known.Id.Label).DefaultIfEmpty("none"))}."))) with
            {
                Units = [.. units.Select(unit => unit.Watched.Unit.Unit)],
            };
        }
    }

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.UnclearUniverses.Count > 0 ? null : base.Exclusion(it);
    }

    /// <summary>Whether nobody sends a universe of the sheet.</summary>
    internal static bool IsAbsent(DiagnosisCase it, int sheetUniverse) =>
        !it.UnclearUniverses.Contains(sheetUniverse) && (!it.Wire.TryGetValue(sheetUniverse, out Decoding.UniverseId wire) || it.Summary(wire) is not { Streams: var streams } || streams.All(stream => stream.LevelFrames == 0));
}
