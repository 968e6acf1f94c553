using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: a sender that nobody works any more still has the say.</summary>
internal sealed class OldSourceLeftOn() : Cause(
    new CauseCard("old-source-left-on", CauseGroup.Network, "a sender left on holds an old look")
    {
        Needs = [CauseInputs.Network],
        Test = "A sender that decides a universe, alone or with others, changes no slot in 10 s or more, while another sender of it changes 3 or more (thresholds: proposals, no source).",
        NotSeen = "No sender that decides a universe stands still beside one that moves.",
        Explains = ["held-at-controller", "universe-stands-still", "overridden-by-priority", "told-dark"],
        Fix = "Switch it off, or give it a lower priority than tonight's controller.",
        Check = new NextCheck("Find the machine by its name or address: a laptop, a visualiser, last week's controller.", 60),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Silencing],
    })
{
    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (UniverseSummary universe in it.Survey.Universes.Where(universe => universe.Streams.Count > 1))
        {
            if (!it.Streams.TryGetValue(universe.Id, out IReadOnlyList<StreamActivity>? streams) || !streams.Any(stream => stream.Moving >= 3))
            {
                continue;
            }

            foreach (StreamActivity stale in streams.Where(stream => stream.Moving == 0 && stream.Followed.TotalSeconds >= 10))
            {
                // At the same priority it is one of two senders; above, it alone is obeyed.
                double alone = universe.Obeyed.Where(span => span.Senders.Count == 1 && span.Senders[0] == stale.Sender.Index).Sum(span => (span.To - span.From).TotalSeconds);
                double shared = universe.Obeyed.Where(span => span.Senders.Count > 1 && span.Senders.Contains(stale.Sender.Index)).Sum(span => (span.To - span.From).TotalSeconds);
                if (alone < 3 && shared < 3)
                {
                    continue;
                }

                string moving = Words.List(streams.Where(stream => stream.Moving >= 3).Select(stream => Words.Name(stream.Sender)));
                yield return Report(
                    CauseState.Likely,
                    universe.Id.Label,
                    $"{universe.Id.Label}: {Words.Name(stale.Sender)} holds one look and never moves, and {(alone >= shared ? "receivers obey it" : "has an equal say")}, while {moving} is being worked.",
                    new CauseEvidence(FormattableString.Invariant($"{Words.Name(stale.Sender)}: {stale.Slots.Count(slot => slot.Value > 0)} slots hold a level and none changes in {stale.Followed.TotalSeconds:0.#} s."))) with
                {
                    Severity = alone >= shared ? Severity.Fault : Severity.Warning,
                    Universe = universe.Id,
                };
            }
        }
    }
}
