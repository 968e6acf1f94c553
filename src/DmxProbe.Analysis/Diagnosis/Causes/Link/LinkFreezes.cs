using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Link;

/// <summary>Cause: what comes out stands still while what goes in moves.</summary>
internal sealed class LinkFreezes() : LinkCause(
    new CauseCard("link-freezes", CauseGroup.Link, "what comes out stands still while what goes in moves")
    {
        Needs = [CauseInputs.TwoTaps],
        Test = "The receiver side repeats levels that the sender side has left behind, or sends nothing, for over 100 ms or three of its frames (common practice, no source).",
        NotSeen = "What comes out never stands still while what goes in moves.",
        Fix = "Radio: another channel, antennas up and in sight. Network: a wire instead of Wi-Fi, the gateway nearer to the sender.",
        Check = new NextCheck("Stand at the receiver and watch its link light while levels move.", 60),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Common,
    })
{
    private const int Most = 3;

    /// <inheritdoc/>
    protected override IEnumerable<CauseReport> Judge(TwoTaps taps) =>
        from link in taps.Links
        where link.LongestFreeze is not null
        let longest = link.LongestFreeze!.Value
        select Of(
            link,
            taps,
            Severity.Fault,
            $"what comes out stands still {Words.Count(link.FreezeCount, "time")} while what goes in moves, longest {Words.Seconds(longest.Length)}{(longest.IsSilent ? ", and nothing is sent meanwhile" : "")}.",
            [.. link.Freezes.OrderByDescending(freeze => freeze.Length).Take(Most).Select(freeze => Span($"{Words.Seconds(freeze.Length)}{(freeze.IsSilent ? ", silent" : ", the old levels repeated")}", freeze.From, freeze.To))]);
}
