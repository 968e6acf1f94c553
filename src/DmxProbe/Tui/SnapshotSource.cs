using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Explain;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Universes;
using DmxProbe.Cli;
using DmxProbe.Cli.Ask;
using DmxProbe.Cli.Text;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>
/// Runs the analyzers over a source and publishes pictures by the time of the records: the same records give the same
/// pictures however fast they come. Everything runs on the thread that calls <see cref="Run"/>.
/// </summary>
internal sealed class SnapshotSource
{
    /// <summary>Time between two pictures: below three a second, so that nothing flickers.</summary>
    public static readonly Duration Every = Duration.FromMilliseconds(400);

    // Levels are wanted at once; what the survey says may be a second old.
    private static readonly Duration SurveyEvery = Duration.FromSeconds(1);

    private readonly ICaptureSource _source;
    private readonly ScreenSheet _sheet;
    private readonly ScreenWish _wish;
    private readonly RecordDecoder _decoder;
    private readonly SurveyAnalyzer _survey = new();
    private readonly RecentAnalyzer _recent = new();
    private readonly UnitTraceSet _units;
    private readonly LevelLogAnalyzer _log;
    private readonly WalkFollower _walk = new();
    private readonly IAnalyzer _late; // who begins in the middle
    private SurveySnapshot? _last;
    private UniverseMap? _map;
    private int _mappedAmong = -1;
    private Timestamp _surveyed;
    private readonly Dictionary<(UniverseId Universe, int Sender), int> _streamOf = [];
    private UniversePicture[] _pictures = [];
    private SenderWords? _words;
    private int _streams;

    /// <summary>Makes it.</summary>
    /// <param name="source">The source; not disposed.</param>
    /// <param name="line">What the person says about line recordings.</param>
    /// <param name="sheet">The sheet, whose units are followed.</param>
    /// <param name="wish">What the person looks at.</param>
    /// <param name="wire">Fed with what is heard; null: nobody asks.</param>
    public SnapshotSource(ICaptureSource source, LineOptions line, ScreenSheet sheet, ScreenWish wish, WatchedWire? wire = null)
    {
        _source = source;
        _sheet = sheet;
        _wish = wish;
        _late = wire is null ? _walk : new FanOut(_walk, wire);
        _decoder = new RecordDecoder(line);
        List<TracedUnit> traced = [.. sheet.Traced()];
        _units = new UnitTraceSet(traced);
        _log = new LevelLogAnalyzer(traced.SelectMany(unit => unit.Universes).ToHashSet());
    }

    /// <summary>
    /// Runs to the end of the source or until stopped; the last picture is published in either case. Where somebody looks
    /// on, it then goes on answering wishes until stopped.
    /// </summary>
    /// <param name="publish">Takes each picture; called on this thread.</param>
    /// <param name="stop">Stops the run.</param>
    /// <param name="stays">Whether wishes are answered after the end.</param>
    public void Run(Action<RigPicture> publish, CancellationToken stop, bool stays = false)
    {
        Publisher publisher = new(_wish, now => publish(Take(now, ended: false)));
        new Session(_source, _decoder, new FanOut(_survey, _recent, _units, _log, new WholeFrames(_late), publisher)).Run(stop);
        publish(Take(publisher.Now, ended: true));
        while (stays && _wish.Wait(stop))
        {
            publish(Take(publisher.Now, ended: true));
        }
    }

    private RigPicture Take(Timestamp now, bool ended)
    {
        bool renewed = _last is null || ended || now - _surveyed >= SurveyEvery || _decoder.Streams.Count != _streams;
        if (renewed)
        {
            Renew(now);
        }

        Wished wished = _wish.Now;
        if (wished.Walks)
        {
            _walk.Follow(_sheet.Targets(_map));
        }

        // Between two surveys only what is looked at has changed: rates are of whole seconds.
        for (int place = 0; place < _pictures.Length; place++)
        {
            UniverseId id = _pictures[place].Summary.Id;
            if (wished.Shows(id))
            {
                _pictures[place] = Picture(_pictures[place].Summary, _last!, now, levels: true);
            }
        }

        return new RigPicture(now, _last!, [.. _pictures], ended)
        {
            Map = _map,
            Unit = wished.Unit is string unit ? Unit(unit, _last!, now) : null,
            Walk = _walk.Snapshot(),
        };
    }

    private void Renew(Timestamp now)
    {
        _survey.OnTime(now);
        SurveySnapshot survey = _survey.Snapshot(_decoder, Surveyor.Inputs(_source, _decoder));
        (_last, _surveyed) = (survey, now);
        if (_streams != _decoder.Streams.Count)
        {
            for (int stream = _streams; stream < _decoder.Streams.Count; stream++)
            {
                _streamOf[(_decoder.Streams.Universe(_decoder.Streams.UniverseIndexOf(stream)), _decoder.Streams.SenderOf(stream))] = stream;
            }

            _streams = _decoder.Streams.Count;
        }

        if (_mappedAmong != survey.Universes.Count)
        {
            // Found anew only when another universe has come up.
            _map = _sheet.MapAmong(survey.Universes.Select(universe => universe.Id));
            _mappedAmong = survey.Universes.Count;
        }

        _words = new SenderWords(survey.Universes.SelectMany(universe => universe.Streams).Select(stream => stream.Sender));
        _pictures =
        [
            .. survey.Universes.Select(universe => Picture(universe, survey, now, levels: false))
                .OrderByDescending(universe => universe.Trouble).ThenBy(universe => universe.Summary.Id),
        ];
    }

    private UnitPicture? Unit(string name, SurveySnapshot survey, Timestamp now)
    {
        if (_sheet.Find(name) is not PatchUnit unit)
        {
            return null;
        }

        UniverseSummary? universe = _map?.Wire.TryGetValue(unit.Universe, out UniverseId wire) == true
            ? survey.Universes.FirstOrDefault(each => each.Id == wire)
            : null;
        Explanation? explanation = _units.Explain(name, universe?.Id, _decoder.Senders.Describe, universe?.Obeyed ?? [], now);
        IEnumerable<IReadOnlyList<IReadOnlyList<int>>> history =
            from sender in explanation?.Senders ?? []
            let stream = universe is not null && _streamOf.TryGetValue((universe.Id, sender.Sender.Index), out int found) ? found : int.MaxValue
            select _log.Snapshot(stream, unit.Address, explanation!.Mode.Footprint, now);
        return new UnitPicture(name, explanation, [.. history], [.. survey.Findings.Where(finding => universe is not null && RigPicture.IsAbout(finding, universe.Id))]);
    }

    private UniversePicture Picture(UniverseSummary universe, SurveySnapshot survey, Timestamp now, bool levels)
    {
        IReadOnlyList<int> obeyed = universe.Obeyed.Count > 0 ? universe.Obeyed[^1].Senders : [];
        IEnumerable<SenderPicture> senders = universe.Streams.Select(stream => new SenderPicture(
            stream,
            _words![stream.Sender.Index],
            obeyed.Contains(stream.Sender.Index),
            _recent.Snapshot(_streamOf[(universe.Id, stream.Sender.Index)], now, levels)));
        return new UniversePicture(
            universe,
            survey.Findings.FirstOrDefault(finding => RigPicture.IsAbout(finding, universe.Id) && finding.Severity > Severity.Info)
                ?? survey.Findings.FirstOrDefault(finding => RigPicture.IsAbout(finding, universe.Id)),
            Known([.. senders.OrderByDescending(sender => sender.Obeyed)]));
    }

    private static Lazy<IReadOnlyList<SenderPicture>> Known(IReadOnlyList<SenderPicture> senders) => new(senders);

    // Fed last, so that the analyzers before it already know the record.
    private sealed class Publisher(ScreenWish wish, Action<Timestamp> publish) : IAnalyzer
    {
        private Wished? _wished;
        private Timestamp _next = Timestamp.MinValue;

        public Timestamp Now { get; private set; } = Timestamp.MinValue;

        public bool TakesEveryRepeat => true;

        public void OnFrame(in DmxFrame frame) => OnTime(frame.Time);

        public bool TryRepeat(int stream, Timestamp time, byte sequence, PacketPrint print, ReadOnlySpan<byte> slots)
        {
            OnTime(time);
            return true;
        }

        public void OnEvent(in LinkEvent linkEvent)
        {
        }

        public void OnTime(Timestamp now)
        {
            if (now > Now)
            {
                Now = now;
            }

            if (now < _next && ReferenceEquals(_wished, wish.Now))
            {
                return;
            }

            _wished = wish.Now;
            publish(Now);
            _next = Now + Every;
        }
    }
}
