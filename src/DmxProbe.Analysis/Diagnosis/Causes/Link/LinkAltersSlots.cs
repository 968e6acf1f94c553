using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Link;

/// <summary>Cause: slots come out changed.</summary>
internal sealed class LinkAltersSlots() : LinkCause(
    new CauseCard("link-alters-slots", CauseGroup.Link, "slots come out changed")
    {
        Needs = [CauseInputs.TwoTaps],
        Test = "Slots that differ between both sides in frames that are otherwise the same.",
        NotSeen = "Every slot comes out as it goes in.",
        Fix = "Look what the gateway or splitter does to these slots: a merge, a patch of its own, a limit; on a line, the cable.",
        Check = new NextCheck("Compare the patch and merge settings of the gateway.", 60),
    })
{
    private const int Most = 6;

    /// <inheritdoc/>
    protected override IEnumerable<CauseReport> Judge(TwoTaps taps) =>
        from link in taps.Links
        where link.DifferingSlotCount > 0
        select Of(
            link,
            taps,
            Severity.Fault,
            $"{Words.Count(link.DifferingSlotCount, "slot")} come{(link.DifferingSlotCount == 1 ? "s" : "")} out other than sent: {Words.List(link.DifferingSlots.Take(Most).Select(slot => Words.Invariant($"{slot.Value}")))}.",
            [.. link.DifferingSlots.Take(Most).Select(slot => new CauseEvidence(Words.Invariant($"slot {slot.Value}: different in {slot.Count:N0} of {link.Frames:N0} frames")))]);
}
