using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: levels that change come too slowly.</summary>
internal sealed class RefreshSlowNetwork() : Cause(
    new CauseCard("refresh-slow-on-network", CauseGroup.Network, "levels come too slowly")
    {
        Needs = [CauseInputs.Network],
        Test = "Under 15 levels a second while levels change, over 20 changed frames or more, most frames changed (common practice, no source: under 20 steps show, under 10 is bad; 15 leaves room for a slow fade of a sender that sends only changes).",
        NotSeen = "While levels change they come often enough.",
        Fix = "Raise the rate of the sender, or take universes off it.",
        Check = new NextCheck("Look at the rate setting of the sender.", 30),
    })
{
    private const double LeastHz = 15;
    private const int LeastChanged = 20;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (UniverseSummary universe in it.Survey.Universes.Where(universe => universe.Id.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet))
        {
            foreach (StreamSummary stream in universe.Streams.Where(stream => stream.RunningHz < LeastHz && stream.ChangedFrames >= LeastChanged && stream.RunningIntervals >= LeastChanged && stream.Sequence.Lost * 4 < stream.Frames))
            {
                yield return Report(
                    CauseState.Likely,
                    universe.Id.Label,
                    FormattableString.Invariant($"{universe.Id.Label} from {Words.Name(stream.Sender)}: {stream.RunningHz:0.0} frames a second while it changes; fades go in steps."),
                    new CauseEvidence(FormattableString.Invariant($"{stream.ChangedFrames} changed frames, {stream.RunningIntervals} intervals under 250 ms."))
                    {
                        Measured = FormattableString.Invariant($"{stream.RunningHz:0.0} Hz"),
                        Limit = FormattableString.Invariant($"{LeastHz:0} Hz"),
                        LimitSource = "common practice, no source",
                        From = stream.First,
                        To = stream.Last,
                        FirstRecord = stream.FirstRecord,
                    }) with
                {
                    Severity = Severity.Warning,
                    Universe = universe.Id,
                };
            }
        }
    }
}
