using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Diagnosis.Causes.Network;

/// <summary>Cause: levels that change come too slowly.</summary>
internal sealed class RefreshSlowNetwork() : Cause(
    new CauseCard("refresh-slow-on-network", CauseGroup.Network, "levels come too slowly")
    {
        Needs = [CauseInputs.Network],
        Test = "Under 15 levels a second while levels change, at an even pace (half of the intervals within a quarter of their median), 20 changed frames or more (common practice, no source: under 20 steps show, under 10 is bad; a sender that sends only changes has no pace of its own).",
        NotSeen = "While levels change they come often enough.",
        Fix = "Raise the rate of the sender, or take universes off it.",
        Check = new NextCheck("Look at the rate setting of the sender.", 30),
    })
{
    private const double LeastHz = 15;
    private const int LeastChanged = 20;
    private const double Even = 0.25;

    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        foreach (UniverseSummary universe in it.Survey.Universes.Where(universe => universe.Id.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet))
        {
            foreach (StreamSummary stream in universe.Streams.Where(stream => stream.RunningHz < LeastHz && stream.ChangedFrames >= LeastChanged && stream.RunningIntervals >= LeastChanged && stream.Sequence.Lost * 4 < stream.Frames && IsEven(stream.Spread)))
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

    private static bool IsEven(RunningSpread? spread) => spread is not null
        && spread.Quarter.TotalSeconds > spread.Median.TotalSeconds * (1 - Even)
        && spread.ThreeQuarters.TotalSeconds < spread.Median.TotalSeconds * (1 + Even);
}
