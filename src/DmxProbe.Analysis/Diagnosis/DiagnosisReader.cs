using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Diagnosis.Units;
using DmxProbe.Analysis.Rdm;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>Reads a source once and puts the case together.</summary>
public static class DiagnosisReader
{
    /// <summary>Reads it.</summary>
    /// <param name="source">The capture, several inputs merged by time; not disposed.</param>
    /// <param name="asked">What is asked.</param>
    /// <param name="line">What a person says about line recordings; null: nothing.</param>
    /// <param name="cancellation">Stops the run; what was seen until then is the case.</param>
    public static DiagnosisCase Read(ICaptureSource source, DiagnosisAsked asked, LineOptions? line, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(asked);
        WatchedUnit[] watched = asked.Sheet is { } sheet ? [.. sheet.Units.Select(unit => Watch(unit, asked))] : [];
        // What a unit is told matters where somebody complains of it, and where several are bad, to see what parts them from the
        // others. Where the sheet's universe is on the wire is known at the end.
        HashSet<string> bad = new(asked.Bad, StringComparer.OrdinalIgnoreCase);
        bool all = bad.Count >= UnitGrouping.FewestBad;
        HashSet<UniverseId> close = [.. watched.Where(unit => bad.Contains(unit.Unit.Unit)).SelectMany(unit => asked.MayBe(unit.Unit.Universe))];
        ILookup<UniverseId, WatchedUnit> places = watched.Where(unit => all || bad.Contains(unit.Unit.Unit))
            .SelectMany(unit => asked.MayBe(unit.Unit.Universe).Select(universe => (Universe: universe, Unit: unit)))
            .ToLookup(pair => pair.Universe, pair => pair.Unit);
        RecordDecoder decoder = new(line ?? LineOptions.Found);
        SurveyAnalyzer survey = new();
        UnitActivityAnalyzer activity = new(universe => [.. places[universe]], close.Contains);
        SurveySnapshot snapshot = Surveyor.Run(source, decoder, survey, new FanOut(survey, activity), cancellation);
        (IReadOnlyDictionary<int, UniverseId> wire, IReadOnlyList<int> unclear) = MapOf(snapshot, asked);
        Dictionary<(UniverseId Universe, int Sender), int> streams = [];
        for (int stream = 0; stream < decoder.Streams.Count; stream++)
        {
            streams[(decoder.Streams.Universe(decoder.Streams.UniverseIndexOf(stream)), decoder.Streams.SenderOf(stream))] = stream;
        }

        Dictionary<UniverseId, IReadOnlyList<StreamActivity>> moves = [];
        Dictionary<UniverseId, StreamSummary> says = [];
        foreach (UniverseSummary universe in snapshot.Universes)
        {
            StreamSummary[] order = [.. universe.Streams.Where(stream => stream.LevelFrames > 0).OrderByDescending(stream => Say(universe, stream)).ThenByDescending(stream => stream.ChangedFrames)];
            moves[universe.Id] = [.. order.Select(stream => activity.Stream(streams[(universe.Id, stream.Sender.Index)], stream.Sender))];
            if (order.Length > 0)
            {
                says[universe.Id] = order[0];
            }
        }

        UnitActivity[] units =
        [
            .. watched.Select(unit => wire.TryGetValue(unit.Unit.Universe, out UniverseId id)
                ? says.TryGetValue(id, out StreamSummary? say)
                    ? activity.Snapshot(unit, streams[(id, say.Sender.Index)], id, say.Sender)
                    : new UnitActivity { Watched = unit, Universe = id }
                : new UnitActivity { Watched = unit }),
        ];
        return new DiagnosisCase(snapshot, units)
        {
            Streams = moves,
            Sheet = asked.Sheet,
            Charts = asked.Charts,
            SheetFindings = asked is { Sheet: { } patch, Charts: { } charts } ? PatchCheck.Check(patch, charts) : [],
            Wire = wire,
            UnclearUniverses = unclear,
            Bad = asked.Bad,
            Said = asked.Said,
            Located = asked.Located,
            Taps = asked.Taps,
            RdmSheet = snapshot.Rdm is { } rdm && asked is { Sheet: { } named, Charts: { } known } ? RdmSheetCheck.Compare(rdm, named, known, wire) : null,
        };
    }

    // A universe that only RDM passes on is in the capture as well; where there are levels they alone say which is which.
    private static (IReadOnlyDictionary<int, UniverseId> Wire, IReadOnlyList<int> Unclear) MapOf(SurveySnapshot snapshot, DiagnosisAsked asked)
    {
        UniverseId[] levels = [.. snapshot.Universes.Select(universe => universe.Id)];
        IEnumerable<UniverseId> ports = (snapshot.Rdm?.Ports ?? []).Select(port => port.Universe).Where(id => id.Protocol == UniverseProtocol.ArtNet);
        return asked.Map(levels.Length > 0 ? levels : [.. ports.Distinct()]);
    }

    private static WatchedUnit Watch(PatchUnit unit, DiagnosisAsked asked) =>
        new(unit, asked.Charts?.Find(unit.Type, unit.Mode), Math.Max(1, asked.Charts is null ? 1 : PatchCheck.FootprintOf(unit, asked.Charts)));

    // How long a sender alone had the say, in steps of three seconds: who came first by a moment is not in charge for it.
    private static double Say(UniverseSummary universe, StreamSummary stream) => Math.Floor(universe.Obeyed.Where(span => span.Senders.Count == 1 && span.Senders[0] == stream.Sender.Index).Sum(span => (span.To - span.From).TotalSeconds) / 3);
}
