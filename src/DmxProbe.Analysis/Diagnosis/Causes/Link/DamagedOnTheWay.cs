using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Diagnosis.Causes.Link;

/// <summary>Cause: the cable between the two places damages packets.</summary>
internal sealed class DamagedOnTheWay() : LinkCause(
    new CauseCard("damaged-on-the-way", CauseGroup.Link, "the cable between the two places damages packets")
    {
        Needs = [CauseInputs.TwoTaps],
        Test = "Packets of a line that are whole at its start and damaged, changed or absent at its end: any is worth a look, over 1 in 1,000 a fault (common practice, no source).",
        NotSeen = "Packets arrive at the end of the line as they left its start.",
        Fix = "Replace the cable between the two places, or look for a unit there that loads the line.",
        Check = new NextCheck("Move the second recording towards the start, a half of the chain at a time, until the damage is gone.", 180),
        Frequency = CauseFrequency.Common,
        Cautions = [Caution.Unplugging],
        Explains = ["framing-errors"],
    })
{
    private const double Bad = 0.001;

    /// <inheritdoc/>
    protected override IEnumerable<CauseReport> Judge(TwoTaps taps) =>
        from segment in taps.Segments
        where segment is { IsAligned: true, LostOnTheWay: > 0 }
        select Report(
            CauseState.Proven,
            Way(segment.Start, segment.End),
            Words.Invariant($"between {taps.Near} and {taps.Far}: of {segment.Packets:N0} packets that leave whole, {segment.DamagedAtEnd:N0} arrive damaged, {segment.Different:N0} with other slots and {segment.Missing:N0} not at all; {segment.DamagedAtStart:N0} were damaged at the start already."),
            new CauseEvidence(Words.Percent(segment.LostOnTheWay) + " of the packets") { Measured = Words.Percent(segment.LostOnTheWay), Limit = "1 in 1,000", LimitSource = "common practice, no source" }) with
        {
            Severity = segment.LostOnTheWay > Bad ? Severity.Fault : Severity.Warning,
            Universe = segment.Start,
        };

    /// <inheritdoc/>
    public override string? Exclusion(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Taps?.Segments.Any(segment => segment.IsAligned) == true ? Card.NotSeen : null;
    }
}
