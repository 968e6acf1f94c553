using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Link;

/// <summary>Cause: changes of level do not come out.</summary>
internal sealed class LinkLeavesOut() : LinkCause(
    new CauseCard("link-leaves-changes-out", CauseGroup.Link, "changes of level do not come out")
    {
        Needs = [CauseInputs.TwoTaps],
        Test = "Under half of the changes that go in come out (threshold: proposal, no source), or over 1 in 1,000 packets of a line is missing, a fault from 1 in 100 (common practice, no source).",
        NotSeen = "Changes come out as they go in.",
        Fix = "See the output rate of the gateway; slow the sender down to 40 Hz or less.",
        Check = new NextCheck("Look at the rate setting of the gateway.", 60),
    })
{
    private const double Warn = 0.001;
    private const double Bad = 0.01;

    /// <inheritdoc/>
    protected override IEnumerable<CauseReport> Judge(TwoTaps taps)
    {
        foreach (LinkComparison link in taps.Links.Where(link => link.Near is not null))
        {
            if (link.Changes > 0 && link.ChangesPassed * 2 < link.Changes)
            {
                yield return Of(link, taps, Severity.Warning, Words.Invariant($"{link.ChangesPassed:N0} of {link.Changes:N0} changes come out: fades go in steps, and short flashes are missed."));
            }
            else if (link.MissingFrames is long missing && missing > Warn * link.Frames)
            {
                yield return Of(
                    link,
                    taps,
                    missing > Bad * link.Frames ? Severity.Fault : Severity.Warning,
                    Words.Invariant($"{missing:N0} of {link.Frames + missing:N0} frames do not come out ({Words.Percent((double)missing / (link.Frames + missing))})."),
                    new CauseEvidence(link.IsMissingBySequence ? "its sequence numbers" : "gaps in its steady rate") { Measured = Words.Count(missing, "missing frame"), Limit = "1 in 1,000", LimitSource = "common practice, no source" });
            }
        }
    }
}
