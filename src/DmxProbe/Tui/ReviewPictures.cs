using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Explain;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Index;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Walk;
using DmxProbe.Cli;
using DmxProbe.Cli.Text;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>
/// Pictures of a recording at any moment: levels from its review files, everything else from the survey of the whole of it.
/// A universe is looked up when a view shows it. For the screen's thread only.
/// </summary>
internal sealed class ReviewPictures
{
    /// <summary>Changes of who decides a slot that the survey is to keep beyond the usual: 20 MB, hours of two controllers that fade against each other now and then.</summary>
    public const int KeptChanges = 200_000;

    private static readonly Duration AtTheStart = Duration.FromSeconds(10);
    private static readonly Duration Slack = Duration.FromMilliseconds(1);
    private readonly ReviewIndex _index;
    private readonly ReviewMoments _moments;
    private readonly SurveySnapshot _survey;
    private readonly ScreenSheet _sheet;
    private readonly ScreenWish _wish;
    private readonly UniverseMap? _map;
    private readonly SenderWords _words;
    private readonly Dictionary<string, ReviewUnit> _units = [];
    private readonly Func<IReadOnlyList<WalkTarget>, WalkResult> _walk;
    private RigPicture? _made;
    private Wished? _wished;
    private WalkResult? _walked;

    /// <summary>Makes it.</summary>
    /// <param name="index">The recording; not disposed.</param>
    /// <param name="survey">The survey of the whole recording.</param>
    /// <param name="sheet">The sheet.</param>
    /// <param name="wish">What the person looks at.</param>
    /// <param name="walk">Reads the recording again for what was moved in it, once somebody asks.</param>
    public ReviewPictures(ReviewIndex index, SurveySnapshot survey, ScreenSheet sheet, ScreenWish wish, Func<IReadOnlyList<WalkTarget>, WalkResult> walk)
    {
        _walk = walk;
        _index = index;
        _moments = new ReviewMoments(index);
        _survey = survey;
        _sheet = sheet;
        _wish = wish;
        _map = sheet.MapAmong(survey.Universes.Select(universe => universe.Id));
        _words = new SenderWords(survey.Universes.SelectMany(universe => universe.Streams).Select(stream => stream.Sender));
        Line = new TimeLine(index.First ?? survey.First ?? Timestamp.MinValue, index.Last ?? survey.Last ?? Timestamp.MinValue);
    }

    /// <summary>The time code that was sent.</summary>
    public TimeCodeAnalyzer TimeCode { get; init; } = new();

    /// <summary>Where in the recording the person is.</summary>
    public TimeLine Line { get; }

    /// <summary>What the survey found, over the whole recording.</summary>
    public SurveySnapshot Survey => _survey;

    /// <summary>The first moment at which every universe that begins within some seconds of the recording has been heard.</summary>
    public Timestamp Opening => _survey.Universes.SelectMany(universe => universe.Streams.Select(stream => stream.First).Order().Take(1))
        .Where(first => first - Line.First <= AtTheStart).Append(Line.First).Max();

    /// <summary>The picture of the moment shown.</summary>
    public RigPicture Picture()
    {
        if (_made is not null && _made.At == Line.At && _wished == _wish.Now)
        {
            return _made;
        }

        Timestamp at = Line.At;
        _wished = _wish.Now;
        if (_wished.Walks && _sheet.Targets(_map) is { } targets)
        {
            _walked ??= _walk(targets);
        }

        _made = new RigPicture(
            at,
            _survey,
            [
                .. _survey.Universes.Select(universe => Universe(universe, at))
                    .OrderByDescending(universe => universe.Trouble).ThenBy(universe => universe.Summary.Id),
            ],
            Ended: false)
        {
            Map = _map,
            IsReview = true,
            Unit = _wished.Unit is string unit ? Unit(unit, at) : null,
            Walk = _walked,
        };
        return _made;
    }

    /// <summary>The nearest moment at which something changed in what the person looks at: the unit, else the universe.</summary>
    /// <param name="universe">The universe chosen; null when there is none.</param>
    /// <param name="forward">Later; else earlier.</param>
    public Timestamp? Change(UniverseId? universe, bool forward) =>
        _wish.Unit is string name && Found(name) is { } unit ? unit.Change(Line.At, forward)
        : universe is UniverseId id ? _index.NearestChange(id, Line.At, forward)
        : null;

    /// <summary>When a unit next goes dark, comes on, starts to flash or to run a programme; null when it does not.</summary>
    public Timestamp? Look(string unit) => Found(unit)?.Looks().Where(look => look > Line.At).Select(look => (Timestamp?)look).FirstOrDefault();

    private UniversePicture Universe(UniverseSummary universe, Timestamp at)
    {
        Finding[] about = [.. _survey.Findings.Where(finding => RigPicture.IsAbout(finding, universe.Id))];
        Finding[] now = [.. about.Where(finding => finding.From <= at && at <= finding.To + Slack)];
        Finding? worst = now.FirstOrDefault(finding => finding.Severity > Severity.Info) ?? now.FirstOrDefault();
        return new UniversePicture(universe, worst, new Lazy<IReadOnlyList<SenderPicture>>(() => Senders(universe, at, changes: false)))
        {
            InDetail = new Lazy<IReadOnlyList<SenderPicture>>(() => Senders(universe, at, changes: true)),
            Deciding = new Lazy<IReadOnlyList<WinnerRange>?>(() => universe.Arbitration is { } found ? found.WinnersAt(at) : []),
        };
    }

    private List<SenderPicture> Senders(UniverseSummary universe, Timestamp at, bool changes)
    {
        IReadOnlyList<int> obeyed = universe.Obeyed.LastOrDefault(span => span.From <= at && at <= span.To + Slack)?.Senders ?? [];
        IReadOnlyList<ReviewMoment> moments = _moments.At(universe.Id, at, changes);
        List<SenderPicture> senders = [];
        foreach (StreamSummary stream in universe.Streams.Where(stream => stream.First <= at))
        {
            ReviewMoment? moment = moments.FirstOrDefault(each => IsSame(each.Sender, stream.Sender));
            StreamSummary then = stream with
            {
                Terminated = moment is { IsEnded: true },
                Silent = moment is null,
                Priorities = [.. stream.Priorities.Where(span => span.From <= at)],
            };
            senders.Add(new SenderPicture(then, _words[stream.Sender.Index], obeyed.Contains(stream.Sender.Index), moment?.Recent));
        }

        return [.. senders.OrderByDescending(sender => sender.Obeyed)];
    }

    private UnitPicture? Unit(string name, Timestamp at)
    {
        if (_sheet.Find(name) is not PatchUnit unit)
        {
            return null;
        }

        UniverseSummary? universe = UniverseOf(unit);
        Finding[] findings = universe is null ? [] : [.. _survey.Findings.Where(finding => RigPicture.IsAbout(finding, universe.Id))];
        if (Found(name) is not ReviewUnit found || universe is null)
        {
            Explanation? nothing = _sheet.ModeOf(unit) is ChartMode mode
                ? UnitExplainer.Explain(unit, null, new SlotTraceAnalyzer(new HashSet<UniverseId>(), unit.Address, mode), _ => throw new InvalidOperationException("nobody sends it"), [], at)
                : null;
            return new UnitPicture(name, nothing, [], findings);
        }

        Explanation explanation = found.Explain(
            at, sender => universe.Streams.FirstOrDefault(stream => IsSame(sender, stream.Sender))?.Sender.Index ?? -1, universe.Obeyed);
        return new UnitPicture(
            name,
            explanation,
            [
                .. from view in explanation.Senders
                   let stream = _index.Streams.FirstOrDefault(each => each.Universe == universe.Id && IsSame(each.Sender, view.Sender))
                   select stream is null ? [] : found.History(stream.Sender.Index, at),
            ],
            findings)
        {
            HeardFrom = universe.Streams.Count > 0 && universe.Streams.Min(stream => stream.First) is Timestamp first && first > at ? first : null,
        };
    }

    private UniverseSummary? UniverseOf(PatchUnit unit) => _map?.Wire.TryGetValue(unit.Universe, out UniverseId wire) == true
        ? _survey.Universes.FirstOrDefault(universe => universe.Id == wire)
        : null;

    private ReviewUnit? Found(string name)
    {
        if (!_units.TryGetValue(name, out ReviewUnit? found)
            && _sheet.Find(name) is PatchUnit unit && _sheet.ModeOf(unit) is ChartMode mode && UniverseOf(unit) is UniverseSummary universe)
        {
            _units[name] = found = new ReviewUnit(_index, unit, mode, universe.Id);
        }

        return found;
    }

    // The recording and the survey each count senders in their own order.
    private static bool IsSame(SenderSummary one, SenderSummary other) => one.Cid.Length > 0 || other.Cid.Length > 0
        ? one.Cid == other.Cid
        : one.Address == other.Address && one.Physical == other.Physical && (one.Address.Length > 0 || one.Name == other.Name);
}
