using DmxProbe.Analysis.Findings;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>
/// The screen without a terminal: a picture, where the person is and a size in, rows out; keys change where the person is.
/// </summary>
internal sealed class Screen
{
    /// <summary>The narrowest terminal with views; a narrower one gets the answer alone.</summary>
    public const int Narrowest = 80;

    private const int LeastRows = 8;
    private const int MostAnswerRows = 3;
    private const int AnswerShare = 3;
    private const int NarrowestUsable = 10;
    private readonly ScreenSheet _sheet;
    private readonly TimeZoneInfo _zone;
    private readonly ReviewPictures? _review;
    private readonly ScreenGuides? _guides;
    private readonly ScreenKeys _does;
    private List<ScreenRow> _shown = [];

    // Rows are put into lists that were used before: the one shown and another.
    private List<ScreenRow> _spare = [];
    private (string Sentence, int Width, int Most, Tint Tint, ScreenRow[] Rows) _answer = ("", 0, 0, Tint.Plain, []);
    private ((ScreenView View, bool Picture, bool Units, bool Unit, bool Senders, int Width) Of, string Text, List<(int From, int To, ScreenKey Key)> Keys) _hinted = (default, "", []);
    private readonly List<(int Row, int From, int To, ScreenKey Key)> _keys = [];
    private int _width;
    private int _line = -1;

    /// <summary>Makes it.</summary>
    /// <param name="sheet">The patch sheet, if there is one.</param>
    /// <param name="zone">The zone of times.</param>
    /// <param name="wish">Told what the person looks at.</param>
    /// <param name="review">The recording shown; null: what is heard.</param>
    /// <param name="guides">The guided screens; null: there are none.</param>
    public Screen(ScreenSheet sheet, TimeZoneInfo zone, ScreenWish wish, ReviewPictures? review = null, ScreenGuides? guides = null)
    {
        _sheet = sheet;
        _zone = zone;
        _review = review;
        _guides = guides;
        _does = new ScreenKeys(State, sheet, zone, wish, review, guides);
    }

    /// <summary>The files that are read; empty with a live input. Untrusted text.</summary>
    public string Reads { get; init; } = "";

    /// <summary>Where the person is.</summary>
    public ScreenState State { get; } = new();

    /// <summary>Goes up with whatever changes what is shown without a key or another picture.</summary>
    public int Version => _guides?.Version ?? 0;

    /// <summary>The rows of a screen, from the top; never more than it has.</summary>
    /// <param name="picture">What to show; null before anything was heard.</param>
    /// <param name="width">Columns.</param>
    /// <param name="height">Rows.</param>
    public IReadOnlyList<ScreenRow> Rows(RigPicture? picture, int width, int height)
    {
        _width = width;
        _line = -1;
        _keys.Clear();
        _guides?.Locate?.Hear(picture);
        if (State.View == ScreenView.Locate && _guides?.Locate is LocateGuide guide)
        {
            return _shown = width < Narrowest || height < LeastRows
                ? Alone(guide.Dead.Length > 0 ? $"{guide.Dead} {LocateView.Sentence(guide)}" : LocateView.Sentence(guide), width, height)
                : Guided($" {LocateView.Heading(guide)}", [], picture, width, height);
        }

        if (picture is null || picture.At == Timestamp.MinValue || IsSilent(picture))
        {
            return _shown = Alone(Quiet(picture), width, height);
        }

        _does.Ready(picture);
        if (State.View == ScreenView.Locate && _guides?.Locate is LocateGuide begun && width >= Narrowest && height >= LeastRows)
        {
            return _shown = Guided($" {LocateView.Heading(begun)}", [], picture, width, height);
        }

        return _shown = width < Narrowest || height < LeastRows ? Alone(Answer(picture, new WallClock(_zone, null, null)), width, height) : Full(picture, width, height);
    }

    private static List<ScreenRow> Alone(string sentence, int width, int height) =>
        [.. Wrapped.Rows(sentence, Math.Max(NarrowestUsable, width), "").Append(new ScreenRow("Q ends", Tint.Frame)).Take(height)];

    // Live, and not one record up to now: that is no finding yet.
    private static bool IsSilent(RigPicture picture) =>
        picture is { Ended: false, IsReview: false, Universes.Count: 0 } && picture.Survey.Inputs.All(input => input.Records == 0);

    private string Quiet(RigPicture? picture) => picture is { Ended: true }
        ? "The input has ended; nothing was in it."
        : Reads.Length > 0 ? $"Reading {Printable.Text(Reads)}."
        : "Nothing heard yet. What comes in shows by itself; dmxprobe inputs says what each input can hear.";

    private List<ScreenRow> Full(RigPicture picture, int width, int height)
    {
        WallClock clock = new(_zone, null, null);
        string heard = _review is not null ? TimeLineRows.Words(_review.Line) : picture.Ended ? "the input has ended" : "running";
        string time = _review is null ? clock.Time(picture.At)[..8] : clock.Time(picture.At);
        string code = _review?.TimeCode.At(picture.At) is string running ? $"   time code {running}" : "";
        string head = RowTexts.Of($" {Heading(picture)}   {time}{code}   {heard}   {Count(picture)}");
        ScreenRow[] answer = Broken(Answer(picture, clock), width, Math.Max(MostAnswerRows, height / AnswerShare), TintOf(picture));
        if (State.View == ScreenView.Walk)
        {
            return Guided(head, answer, picture, width, height);
        }

        (_spare, List<ScreenRow> rows) = (_shown, _spare);
        rows.Clear();
        rows.Add(new ScreenRow(Wrapped.Cut(head, width), Tint.Frame));
        rows.AddRange(answer);
        List<ScreenRow> bottom = Bottom(picture, width, height - 1);
        int foot = bottom.Count + (_review is null ? 0 : 2);
        int room = Math.Max(1, height - rows.Count - foot);
        int above = rows.Count;
        if (State.View == ScreenView.Universe)
        {
            UniverseView.AddTo(rows, picture, State, _sheet, width, room);
        }
        else
        {
            rows.AddRange(Body(picture, clock, width, room));
        }

        if (rows.Count > above + room)
        {
            rows.RemoveRange(above + room, rows.Count - above - room);
        }

        while (rows.Count < height - foot)
        {
            rows.Add(new ScreenRow(""));
        }

        if (_review is not null)
        {
            _line = rows.Count;
            rows.Add(TimeLineRows.Row(_review, clock, width));
            rows.Add(new ScreenRow(Shown(TimeLineRows.Hints(_review.Line), width, height - 1 - bottom.Count), Tint.Frame));
        }

        rows.AddRange(bottom);
        return rows;
    }

    private IReadOnlyList<ScreenRow> Body(RigPicture picture, WallClock clock, int width, int room) => State.View switch
    {
        ScreenView.Rig => RigView.Rows(picture, State, width, room),
        ScreenView.Unit => picture.Unit is UnitPicture unit ? UnitView.Rows(unit, picture, State, width, room, _guides is not null) : [new ScreenRow(" One moment.")],
        ScreenView.Timing => TimingView.Rows(picture, State, width, room),
        ScreenView.Keys => KeysView.Rows(State, _review is not null, width, room),
        _ => FindingsView.Rows(picture, State, clock, width, room),
    };

    // The sentence on rows; mostly the one that stands there already.
    private ScreenRow[] Broken(string sentence, int width, int most, Tint tint)
    {
        if (_answer.Sentence != sentence || _answer.Width != width || _answer.Most != most || _answer.Tint != tint)
        {
            _answer = (sentence, width, most, tint, [.. Wrapped.Rows(sentence, width, " ", tint, most)]);
        }

        return _answer.Rows;
    }

    // Heading and answer, the words of a guide, its large keys, and at the bottom the keys that lead away.
    private List<ScreenRow> Guided(string head, IEnumerable<ScreenRow> answer, RigPicture? picture, int width, int height)
    {
        List<ScreenRow> rows = [new(Wrapped.Cut(head, width), Tint.Frame), .. answer];
        GuideRows guide = State.View == ScreenView.Locate ? LocateView.Rows(_guides!.Locate!, width)
            : _guides?.Walk is WalkGuide walk && picture?.Walk is { } moved ? WalkView.Rows(moved, walk, picture, width, _guides.IsRecording)
            : new GuideRows([new ScreenRow(" One moment.")], []);
        int top = _guides?.Top ?? 0;
        int above = rows.Count;
        List<ScreenRow> bottom = Bottom(picture, width, height - 1);
        rows.AddRange(guide.LaidOut(width, Math.Max(1, height - above - bottom.Count), ref top, (row, from, to, key) => _keys.Add((above + row, from, to, key))));
        if (_guides is not null)
        {
            _guides.Top = top;
        }

        rows.AddRange(bottom);
        return rows;
    }

    private string Heading(RigPicture picture) => State.View switch
    {
        ScreenView.Unit when picture.Unit is UnitPicture shown => $"Unit {Printable.Text(shown.Name)}",
        ScreenView.Walk => "Function check",
        _ => State.View.ToString(),
    };

    private Tint TintOf(RigPicture picture) => State.View is ScreenView.Unit or ScreenView.Timing or ScreenView.Walk
        ? Tint.Plain
        : picture.Worst?.Severity switch
        {
            Severity.Fault => Tint.Fault,
            Severity.Warning => Tint.Warning,
            _ => Tint.Plain,
        };

    // The answer to what the person looks at: the rig, the unit or the timing.
    private string Answer(RigPicture picture, WallClock clock) => State.View switch
    {
        ScreenView.Unit when picture.Unit is UnitPicture unit => Printable.Text(UnitView.Sentence(unit, clock)),
        ScreenView.Timing => TimingView.Sentence(picture),
        ScreenView.Walk when _guides?.Walk is WalkGuide walk && picture.Walk is { } moved => WalkView.Sentence(moved, walk),
        _ => Sentence(picture),
    };

    /// <summary>The whole answer about the rig in one sentence.</summary>
    public static string Sentence(RigPicture picture) => picture.Worst switch
    {
        null when picture.IsReview && picture.Survey.Findings.FirstOrDefault(finding => finding.Severity > Severity.Info) is Finding other =>
            $"Nothing wrong at this moment. In the whole recording: {Word(other.Severity)}: {Printable.Text(other.Text)}",
        null => picture.Universes.Count == 0 ? "No DMX is heard." : "Nothing wrong is heard.",
        { Severity: Severity.Info } finding => RowTexts.Of($"No fault heard. To know: {Printable.Text(finding.Text)}"),
        { } finding => RowTexts.Of($"{Word(finding.Severity)}: {Printable.Text(finding.Text)}"),
    };

    /// <summary>A severity as a word.</summary>
    public static string Word(Severity severity) => severity switch
    {
        Severity.Fault => "Fault",
        Severity.Warning => "Warning",
        _ => "To know",
    };

    /// <summary>Takes a key. A key that has no meaning here does nothing.</summary>
    /// <returns>False when the person wants to leave.</returns>
    public bool Press(ScreenKey key, RigPicture? picture) => _does.Press(key, picture);

    /// <summary>Takes a click: on a row of a list it chooses, on the row chosen it is Enter, on a key it is the key.</summary>
    /// <returns>False when the person wants to leave.</returns>
    public bool Click(int column, int row, RigPicture? picture)
    {
        (int Row, int From, int To, ScreenKey Key) hit = _keys.Find(key => row == key.Row && column >= key.From && column < key.To);
        if (hit.To > 0)
        {
            return Press(hit.Key, picture);
        }

        if (row == _line && _review is not null)
        {
            _review.Line.Go(_review.Line.Moment(column - TimeLineRows.LineFrom, TimeLineRows.LineWidth(_width)));
            return true;
        }

        if (picture is null || row < 0 || row >= _shown.Count || _shown[row] is not { Choice: > 0 and int choice, Tint: Tint tint })
        {
            return true;
        }

        if (tint == Tint.Chosen)
        {
            return Press(new ScreenKey(KeyKind.Enter), picture);
        }

        _does.Choose(choice, picture);
        return true;
    }

    private static string Count(RigPicture picture) =>
        picture.Universes.Count == 1 ? "1 universe" : RowTexts.Of($"{picture.Universes.Count} universes");

    // The keys that lead away, or what the last key could not do, whole.
    private List<ScreenRow> Bottom(RigPicture? picture, int width, int row) => State.Typing is null && State.Answer.Length > 0
        ? Wrapped.Rows(State.Answer, width, " ", Tint.Frame, MostAnswerRows)
        : [new ScreenRow(picture is null && State.View == ScreenView.Locate ? Shown(ScreenHints.Guide(alone: true), width, row) : Hints(picture, width, row), Tint.Frame)];

    private string Hints(RigPicture? picture, int width, int row)
    {
        if (State.Typing is string typed)
        {
            string asked = State.TypingTime ? "Go to time (19:41:07, 12.5 s" + (_review?.TimeCode.Spans.Count > 0 ? ", t1:00:12:05)" : ")") : "Go to unit";
            return Wrapped.Cut($" {asked}: {Printable.Text(typed)}_   Enter goes   Esc leaves", width);
        }

        (ScreenView, bool, bool, bool, bool, int) of = (State.View, picture is not null, picture is not null && _does.Moves.HasUnits(picture), State.Unit is not null, picture is not null && _does.Moves.Senders(picture) > 1, width);
        if (_hinted.Of != of || _hinted.Keys.Count == 0)
        {
            _hinted = (of, "", []);
            _hinted.Text = Laid(ScreenHints.Of(State, picture, _does.Moves, _sheet.IsGiven, _guides is { HasSheet: true }), width, _hinted.Keys);
        }

        return Noted(_hinted.Text, _hinted.Keys, row);
    }

    private string Shown(IReadOnlyList<KeyHint> hints, int width, int row)
    {
        List<(int From, int To, ScreenKey Key)> keys = [];
        return Noted(Laid(hints, width, keys), keys, row);
    }

    private string Noted(string text, List<(int From, int To, ScreenKey Key)> keys, int row)
    {
        foreach ((int from, int to, ScreenKey key) in keys)
        {
            _keys.Add((row, from, to, key));
        }

        return text;
    }

    // Keys that everybody tries anyway give way where a row is too short for all.
    private static string Laid(IReadOnlyList<KeyHint> hints, int width, List<(int From, int To, ScreenKey Key)> keys)
    {
        List<KeyHint> fit = [.. hints];
        while (fit.Sum(hint => hint.Text.Length + 2) - 1 > width && fit.FindIndex(hint => hint.GivesWay) is >= 0 and int first)
        {
            fit.RemoveAt(first);
        }

        string text = "";
        foreach (KeyHint hint in fit)
        {
            if (text.Length + 2 + hint.Text.Length > width)
            {
                break;
            }

            text += text.Length == 0 ? " " : "  ";
            keys.Add((text.Length, text.Length + hint.Text.Length, hint.Key));
            text += hint.Text;
        }

        return text;
    }
}
