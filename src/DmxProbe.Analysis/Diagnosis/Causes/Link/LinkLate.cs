using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Link;

/// <summary>Cause: what comes out is late.</summary>
internal sealed class LinkLate() : LinkCause(
    new CauseCard("gateway-latency", CauseGroup.Link, "what comes out is late")
    {
        Needs = [CauseInputs.TwoTaps],
        Test = "Half of the changes come out over 40 ms after they went in, by one clock; over 100 ms is a fault (40 ms shows with music: common practice, no source).",
        NotSeen = "Changes come out within 40 ms.",
        Fix = "Take load off the gateway; see its rate setting; a wire instead of radio.",
        Check = new NextCheck("Record both sides again with nothing else on the network.", 180),
        Cautions = [Caution.Unplugging],
    })
{
    private const double Warn = 40;
    private const double Bad = 100;

    /// <inheritdoc/>
    protected override IEnumerable<CauseReport> Judge(TwoTaps taps) =>
        from link in taps.Links
        where link.SameClock && link.Latency?.Median.TotalMilliseconds > Warn
        select Of(
            link,
            taps,
            link.Latency!.Median.TotalMilliseconds > Bad ? Severity.Fault : Severity.Warning,
            $"what comes out is {Words.Milliseconds(link.Latency.Median)} late in the middle, {Words.Milliseconds(link.Latency.Maximum)} at most.",
            new CauseEvidence(Words.Count(link.Latency.Count, "change") + " measured") { Measured = Words.Milliseconds(link.Latency.Median), Limit = "40 ms", LimitSource = "common practice, no source" });

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Taps is { Links: { Count: > 0 } links } && links.All(link => link is { SameClock: true, Latency: not null }) ? Card.NotSeen : null;
    }
}
