using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Diagnosis;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>Two files of one moment as inputs of <c>diagnose</c>: the sender's side first, then the receiver's.</summary>
/// <param name="Taps">What lies between them; null where they are not two places of one moment.</param>
/// <param name="Inputs">The files that the case itself is made from.</param>
internal sealed record DiagnoseTaps(TwoTaps? Taps, string[] Inputs)
{
    private const int FewestPassed = 8;

    /// <summary>Reads both and holds them against each other.</summary>
    /// <param name="names">The words of the command line: two files make two taps, anything else none.</param>
    /// <param name="files">What the person says about line recordings.</param>
    /// <param name="line">The same, for the decoder.</param>
    /// <param name="stop">Ctrl-C.</param>
    public static DiagnoseTaps Hear(string[] names, LineFileOptions files, LineOptions line, CancellationToken stop)
    {
        if (names.Length != 2 || names.Any(Cli.Inputs.IsLive) || names.Contains("-"))
        {
            return new DiagnoseTaps(null, names);
        }

        Side one = Read(names[0], files, line, stop), other = Read(names[1], files, line, stop);

        // A line behind a network is the receiver's side, in whatever order they are given.
        (Side near, Side far) = one.IsLineOnly && other.HasNetwork && !other.Tap.HasLine ? (other, one) : (one, other);
        UniverseId[] both = [.. near.Network.Intersect(far.Network)];
        if (both.Length > 0)
        {
            return near.Survey.Last < far.Survey.First || far.Survey.Last < near.Survey.First
                ? new DiagnoseTaps(null, names)
                : new DiagnoseTaps(
                    new TwoTaps(Path.GetFileName(near.Name), Path.GetFileName(far.Name))
                    {
                        Links = [.. LinkComparer.Compare(near.Tap, far.Tap).Where(link => link.Near is not null)],
                        Losses = Losses(near.Survey, far.Survey),
                    },
                    [near.Name]);
        }

        if (!far.Tap.HasLine)
        {
            return new DiagnoseTaps(null, names);
        }

        LinkComparison[] links = [.. LinkComparer.Compare(near.Tap, far.Tap).Where(IsSure)];
        SegmentComparison[] segments = near.Tap.HasLine ? [.. SegmentComparer.Compare(near.Tap, far.Tap).Where(segment => segment.IsAligned)] : [];
        return new DiagnoseTaps(links.Length + segments.Length > 0 ? new TwoTaps(Path.GetFileName(near.Name), Path.GetFileName(far.Name)) { Links = links, Segments = segments } : null, names);
    }

    // A line carries no number: it is of a universe only where enough of its changes came out, and half of them or more. A
    // short or still recording that fits by chance accuses nobody.
    private static bool IsSure(LinkComparison link) => link.Near is not null && link.ChangesPassed >= FewestPassed && link.IsSure;

    // Unicast to somebody else is not meant to pass the second place.
    private static List<TapLoss> Losses(SurveySnapshot near, SurveySnapshot far)
    {
        List<TapLoss> losses = [];
        foreach (UniverseSummary universe in near.Universes)
        {
            UniverseSummary? there = far.Universes.FirstOrDefault(known => known.Id == universe.Id);
            foreach (StreamSummary sent in universe.Streams.Where(stream => stream.LevelFrames > 0))
            {
                StreamSummary? came = there?.Streams.FirstOrDefault(stream => IsSame(stream.Sender, sent.Sender));
                if (came is not null || sent.UnicastFrames == 0)
                {
                    losses.Add(new TapLoss(universe.Id, sent.Sender, sent.Frames, came?.Frames ?? 0, sent.Sequence.Lost, came?.Sequence.Lost ?? 0));
                }
            }
        }

        return losses;
    }

    private static bool IsSame(SenderSummary one, SenderSummary other) =>
        one.Cid.Length > 0 ? one.Cid == other.Cid : (one.Address, one.Physical) == (other.Address, other.Physical);

    private static Side Read(string name, LineFileOptions files, LineOptions line, CancellationToken stop)
    {
        using ICaptureSource source = Cli.Inputs.OpenMerged([name], live: null, files);
        RecordDecoder decoder = new(line);
        SurveyAnalyzer surveyor = new();
        TapRecorder tap = new();
        SurveySnapshot survey = Surveyor.Run(source, decoder, surveyor, new FanOut(surveyor, tap), stop);
        stop.ThrowIfCancellationRequested();
        return new Side(name, survey, tap.Snapshot(decoder));
    }

    private sealed record Side(string Name, SurveySnapshot Survey, TapRecording Tap)
    {
        public IEnumerable<UniverseId> Network => Survey.Universes.Where(universe => universe.Streams.Any(stream => stream.LevelFrames > 0)).Select(universe => universe.Id).Where(id => id.Protocol is UniverseProtocol.Sacn or UniverseProtocol.ArtNet);

        public bool HasNetwork => Network.Any();

        public bool IsLineOnly => Tap.HasLine && !HasNetwork;
    }
}
