using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Link;

/// <summary>Cause: packets are lost on the way.</summary>
internal sealed class LostOnTheWay() : LinkCause(
    new CauseCard("lost-on-the-way", CauseGroup.Link, "packets are lost on the way")
    {
        Needs = [CauseInputs.TwoTaps],
        Test = "Sequence numbers missing at the receiver side and not at the sender side: over 1 in 1,000 is worth a look, over 1 in 100 a fault; or a universe that is multicast or broadcast and does not arrive at all (common practice, no source).",
        NotSeen = "No packet is lost between the two places.",
        Fix = "Look at the switches and links between: overload, a bad cable, Wi-Fi; for a universe that does not arrive, at snooping and VLANs.",
        Check = new NextCheck("Capture at the switch between the two: the loss is before or behind it.", 300),
        Cautions = [Caution.Returning],
        Frequency = CauseFrequency.Common,
    })
{
    private const double Warn = 0.001;
    private const double Bad = 0.01;

    /// <inheritdoc/>
    protected override IEnumerable<CauseReport> Judge(TwoTaps taps) =>
        from loss in taps.Losses
        where loss.Far == 0 || loss.Share > Warn
        select Report(
            loss.Far == 0 ? CauseState.Likely : CauseState.Proven,
            loss.Universe.Label,
            loss.Far == 0
                ? $"between {taps.Near} and {taps.Far}, {loss.Universe.Label} of {Words.Name(loss.Sender)} does not arrive: {Words.Count(loss.Near, "packet")} at {taps.Near}, none at {taps.Far}."
                : Words.Invariant($"between {taps.Near} and {taps.Far}, {loss.Universe.Label} of {Words.Name(loss.Sender)} loses {loss.OnTheWay:N0} of {loss.Far + loss.LostFar:N0} packets ({Words.Percent(loss.Share)})."),
            new CauseEvidence(Words.Invariant($"missing by their sequence numbers: {loss.LostNear:N0} at {taps.Near}, {loss.LostFar:N0} at {taps.Far}"))
            {
                Measured = Words.Count(loss.OnTheWay, "packet"),
                Limit = "1 in 1,000",
                LimitSource = "common practice, no source",
            }) with
        {
            Severity = loss.Far == 0 || loss.Share > Bad ? Severity.Fault : Severity.Warning,
            Universe = loss.Universe,
        };

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Taps?.Losses.Count > 0 ? Card.NotSeen : null;
    }
}
