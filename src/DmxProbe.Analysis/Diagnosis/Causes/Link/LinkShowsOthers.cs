using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Link;

/// <summary>Cause: something else comes out than goes in.</summary>
internal sealed class LinkShowsOthers() : LinkCause(
    new CauseCard("link-shows-other-levels", CauseGroup.Link, "something else comes out than goes in")
    {
        Needs = [CauseInputs.TwoTaps],
        Test = "For 250 ms or more the receiver side shows levels that the sender side did not send, four frames or more (thresholds: proposals, no source).",
        NotSeen = "Nothing comes out that did not go in.",
        Fix = "Find the other sender or transmitter that reaches this receiver, and part them: its own group, its own universe.",
        Check = new NextCheck("Count the transmitters and gateways that are on.", 60),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Silencing],
    })
{
    private const int Most = 3;

    /// <inheritdoc/>
    protected override IEnumerable<CauseReport> Judge(TwoTaps taps) =>
        from link in taps.Links
        where link.Detours.Count > 0
        let first = link.Detours[0]
        select Of(
            link,
            taps,
            Severity.Fault,
            $"{Words.Count(link.Detours.Count, "time")} something else comes out than goes in{(first.Who.Length > 0 ? $", the first time what {first.Who} sends" : "")}, for {Words.Seconds(first.To - first.From)}.",
            [.. link.Detours.Take(Most).Select(detour => Span($"{Words.Count(detour.Frames, "frame")}{(detour.Who.Length > 0 ? $", those of {detour.Who}" : "")}", detour.From, detour.To))]);
}
