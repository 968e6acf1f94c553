using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: every slot of a universe is 0.</summary>
internal sealed class UniverseAtZero() : Cause(
    new CauseCard("universe-at-zero", CauseGroup.Network, "every slot of the universe is 0")
    {
        Needs = [CauseInputs.Levels | CauseInputs.Sheet],
        Test = "No slot of a universe of the sheet is ever above 0 in 10 s or more: blackout, a master at 0, or nothing patched there (threshold: proposal, no source).",
        NotSeen = "Every universe of the sheet carries a level above 0.",
        Explains = ["told-dark", "held-at-controller", "universe-stands-still", "colours-down"],
        Fix = "Lift blackout and masters; look whether anything is patched to this universe at the controller.",
        Check = new NextCheck("Look at blackout and grand master at the controller.", 10),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Common,
    })
{
    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (UniverseId id in it.Wire.Values.Distinct().Order())
        {
            if (UniverseStandsStill.Say(it, id) is { Followed.TotalSeconds: >= 10 } stream && stream.Slots.All(slot => slot.Greatest == 0))
            {
                yield return Report(
                    CauseState.Likely,
                    id.Label,
                    FormattableString.Invariant($"{id.Label} carries nothing but zeros for {stream.Followed.TotalSeconds:0.#} s: blackout, a master at 0, or nothing is patched there."),
                    new CauseEvidence(FormattableString.Invariant($"{stream.Slots.Count} slots, all 0, from {Findings.Words.Name(stream.Sender)}."))) with
                {
                    // A dark universe is a fault only where somebody misses light.
                    Severity = it.UnitsOn(id).Any(unit => it.IsBad(unit.Watched.Unit.Unit)) ? Findings.Severity.Fault : Findings.Severity.Info,
                    Universe = id,
                };
            }
        }
    }
}
