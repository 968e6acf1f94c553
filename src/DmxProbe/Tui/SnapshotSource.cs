using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Decoding.Line;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Universes;
using DmxProbe.Cli.Text;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>
/// Runs the analyzers over a source and publishes pictures by the time of the records: the same records give the same
/// pictures however fast they come. Everything runs on the thread that calls <see cref="Run"/>.
/// </summary>
/// <param name="source">The source; not disposed.</param>
/// <param name="line">What the person says about line recordings.</param>
internal sealed class SnapshotSource(ICaptureSource source, LineOptions line)
{
    /// <summary>Time between two pictures: below three a second, so that nothing flickers.</summary>
    public static readonly Duration Every = Duration.FromMilliseconds(400);

    // Levels are wanted at once; what the survey says may be a second old.
    private static readonly Duration SurveyEvery = Duration.FromSeconds(1);

    private readonly RecordDecoder _decoder = new(line);
    private readonly SurveyAnalyzer _survey = new();
    private readonly RecentAnalyzer _recent = new();
    private SurveySnapshot? _last;
    private Timestamp _surveyed;
    private int _streams;

    /// <summary>Runs to the end of the source or until stopped; the last picture is published in either case.</summary>
    /// <param name="publish">Takes each picture; called on this thread.</param>
    /// <param name="stop">Stops the run.</param>
    public void Run(Action<RigPicture> publish, CancellationToken stop)
    {
        Publisher publisher = new(now => publish(Take(now, ended: false)));
        new Session(source, _decoder, new FanOut(_survey, _recent, publisher)).Run(stop);
        publish(Take(publisher.Now, ended: true));
    }

    private RigPicture Take(Timestamp now, bool ended)
    {
        if (_last is null || ended || now - _surveyed >= SurveyEvery || _decoder.Streams.Count != _streams)
        {
            _survey.OnTime(now);
            _last = _survey.Snapshot(_decoder, Surveyor.Inputs(source, _decoder));
            _surveyed = now;
            _streams = _decoder.Streams.Count;
        }

        SenderWords words = new(_last.Universes.SelectMany(universe => universe.Streams).Select(stream => stream.Sender));
        Dictionary<(UniverseId Universe, int Sender), int> streams = [];
        for (int stream = 0; stream < _decoder.Streams.Count; stream++)
        {
            streams[(_decoder.Streams.Universe(_decoder.Streams.UniverseIndexOf(stream)), _decoder.Streams.SenderOf(stream))] = stream;
        }

        return new RigPicture(
            now,
            _last,
            [
                .. _last.Universes.Select(universe => Picture(universe, _last, words, streams, now))
                    .OrderByDescending(universe => universe.Trouble).ThenBy(universe => universe.Summary.Id),
            ],
            ended);
    }

    private UniversePicture Picture(
        UniverseSummary universe,
        SurveySnapshot survey,
        SenderWords words,
        Dictionary<(UniverseId Universe, int Sender), int> streams,
        Timestamp now)
    {
        IReadOnlyList<int> obeyed = universe.Obeyed.Count > 0 ? universe.Obeyed[^1].Senders : [];
        IEnumerable<SenderPicture> senders = universe.Streams.Select(stream => new SenderPicture(
            stream,
            words[stream.Sender.Index],
            obeyed.Contains(stream.Sender.Index),
            _recent.Snapshot(streams[(universe.Id, stream.Sender.Index)], now)));
        string label = universe.Id.Label;
        return new UniversePicture(
            universe,
            survey.Findings.FirstOrDefault(finding => finding.Subject == label && finding.Severity > Severity.Info)
                ?? survey.Findings.FirstOrDefault(finding => finding.Subject == label),
            [.. senders.OrderByDescending(sender => sender.Obeyed)]);
    }

    // Fed last, so that the analyzers before it already know the record.
    private sealed class Publisher(Action<Timestamp> publish) : IAnalyzer
    {
        private Timestamp _next = Timestamp.MinValue;

        public Timestamp Now { get; private set; } = Timestamp.MinValue;

        public void OnFrame(in DmxFrame frame) => OnTime(frame.Time);

        public void OnEvent(in LinkEvent linkEvent)
        {
        }

        public void OnTime(Timestamp now)
        {
            if (now > Now)
            {
                Now = now;
            }

            if (now < _next)
            {
                return;
            }

            publish(now);
            _next = now + Every;
        }
    }
}
