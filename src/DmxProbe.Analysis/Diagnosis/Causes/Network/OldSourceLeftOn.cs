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
        ReasonOf = ["equal-priority", "two-art-net-senders"],
        Explains = ["held-at-controller", "universe-stands-still", "overridden-by-priority", "told-dark"],
        Fix = "Switch it off, or give it a lower priority than tonight's controller.",
        Check = new NextCheck("Find the machine by its name or address: a laptop, a visualiser, last week's controller.", 60),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Silencing],
    })
{
    private const int LeastMoving = 3;
    private const double LeastSeconds = 10;
    private const double LeastSay = 3;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (UniverseSummary universe in it.Survey.Universes.Where(universe => universe.Streams.Any(stream => stream.MovedSlots >= LeastMoving)))
        {
            foreach (StreamSummary stale in universe.Streams.Where(stream => stream.MovedSlots == 0 && stream.LevelFrames > stream.PreviewFrames && (stream.Last - stream.First).TotalSeconds >= LeastSeconds))
            {
                // At the same priority it is one of two senders; above, it alone is obeyed.
                double alone = universe.Obeyed.Where(span => span.Senders.Count == 1 && span.Senders[0] == stale.Sender.Index).Sum(span => (span.To - span.From).TotalSeconds);
                double shared = universe.Obeyed.Where(span => span.Senders.Count > 1 && span.Senders.Contains(stale.Sender.Index)).Sum(span => (span.To - span.From).TotalSeconds);
                if (alone < LeastSay && shared < LeastSay)
                {
                    continue;
                }

                string moving = Words.List(universe.Streams.Where(stream => stream.MovedSlots >= LeastMoving).Select(stream => Words.Name(stream.Sender)));
                string held = FormattableString.Invariant($"{stale.SlotsUp} slots hold a level and none changes in {(stale.Last - stale.First).TotalSeconds:0.#} s");
                yield return Report(
                    CauseState.Likely,
                    universe.Id.Label,
                    $"{universe.Id.Label}: {Words.Name(stale.Sender)} holds one look and never moves, and {(alone >= shared ? "receivers obey it" : "has an equal say")}, while {moving} is being worked.",
                    new CauseEvidence($"{Words.Name(stale.Sender)}: {held}.") { Measured = held, From = stale.First, To = stale.Last, FirstRecord = stale.FirstRecord }) with
                {
                    Action = $"Switch {Words.Name(stale.Sender)} off, or give it a lower priority than tonight's controller.",
                    Severity = alone >= shared ? Severity.Fault : Severity.Warning,
                    Universe = universe.Id,
                };
            }
        }
    }
}
