using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Cli;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>
/// The screen without a terminal: a picture, where the person is and a size in, rows out; keys change where the person is.
/// </summary>
/// <param name="sheet">The patch sheet, if there is one.</param>
/// <param name="zone">The zone of times.</param>
/// <param name="wish">Told what the person looks at.</param>
/// <param name="review">The recording shown; null: what is heard.</param>
internal sealed class Screen(ScreenSheet sheet, TimeZoneInfo zone, ScreenWish wish, ReviewPictures? review = null)
{
    /// <summary>The narrowest terminal with views; a narrower one gets the answer alone.</summary>
    public const int Narrowest = 80;

    private const int LongestTyped = 40;
    private const int LeastRows = 8;
    private const int MostAnswerRows = 3;
    private List<ScreenRow> _shown = [];
    private List<(int Row, int From, int To, ScreenKey Key)> _keys = [];
    private int _width;

    /// <summary>Where the person is.</summary>
    public ScreenState State { get; } = new();

    /// <summary>The rows of a screen, from the top; never more than it has.</summary>
    /// <param name="picture">What to show; null before anything was heard.</param>
    /// <param name="width">Columns.</param>
    /// <param name="height">Rows.</param>
    public IReadOnlyList<ScreenRow> Rows(RigPicture? picture, int width, int height) =>
        _shown = picture is null || picture.At == Timestamp.MinValue || IsSilent(picture)
            ? [.. Quiet(picture).Take(height)]
            : width < Narrowest || height < LeastRows
            ? [.. Wrapped.Rows(Answer(picture, new WallClock(zone, null, null)), Math.Max(10, width), "").Append(new ScreenRow("Q ends", Tint.Frame)).Take(height)]
            : Full(picture, width, height);

    // Live, and not one record up to now: that is no finding yet.
    private static bool IsSilent(RigPicture picture) =>
        picture is { Ended: false, IsReview: false, Universes.Count: 0 } && picture.Survey.Inputs.All(input => input.Records == 0);

    private static IEnumerable<ScreenRow> Quiet(RigPicture? picture)
    {
        yield return new ScreenRow(picture is { Ended: true } ? " The input has ended; nothing was in it." : " Nothing heard yet. What comes in shows by itself; dmxprobe inputs says what each input can hear.");
        yield return new ScreenRow(" Q ends", Tint.Frame);
    }

    private List<ScreenRow> Full(RigPicture picture, int width, int height)
    {
        _width = width;
        WallClock clock = new(zone, null, null);
        string heard = review is not null ? TimeLineRows.Words(review.Line) : picture.Ended ? "the input has ended" : "running";
        string time = review is null ? clock.Time(picture.At)[..8] : clock.Time(picture.At);
        string view = State.View == ScreenView.Unit && picture.Unit is UnitPicture shown ? $"Unit {Printable.Text(shown.Name)}" : State.View.ToString();
        List<ScreenRow> rows =
        [
            new(Wrapped.Cut($" {view}   {time}   {heard}   {Count(picture)}", width), Tint.Frame),
            .. Wrapped.Rows(Answer(picture, clock), width, " ", TintOf(picture), MostAnswerRows),
        ];
        int foot = review is null ? 1 : 3;
        int room = Math.Max(1, height - rows.Count - foot);
        IReadOnlyList<ScreenRow> body = State.View switch
        {
            ScreenView.Rig => RigView.Rows(picture, State, width, room),
            ScreenView.Universe => UniverseView.Rows(picture, State, sheet, width, room),
            ScreenView.Unit => picture.Unit is UnitPicture unit ? UnitView.Rows(unit, picture, State, width, room) : [new ScreenRow(" One moment.")],
            ScreenView.Timing => TimingView.Rows(picture, State, width, room),
            _ => FindingsView.Rows(picture, State, clock, width, room),
        };
        rows.AddRange(body.Take(room));
        while (rows.Count < height - foot)
        {
            rows.Add(new ScreenRow(""));
        }

        _keys = [];
        if (review is not null)
        {
            rows.Add(TimeLineRows.Row(review, clock, width));
            rows.Add(new ScreenRow(Shown(TimeLineRows.Hints(review.Line), width, height - 2), Tint.Frame));
        }

        rows.Add(new ScreenRow(Bottom(picture, width, height - 1), Tint.Frame));
        return rows;
    }

    private Tint TintOf(RigPicture picture) => State.View is ScreenView.Unit or ScreenView.Timing
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
        _ => Sentence(picture),
    };

    /// <summary>The whole answer about the rig in one sentence.</summary>
    public static string Sentence(RigPicture picture) => picture.Worst switch
    {
        null when picture.IsReview && picture.Survey.Findings.FirstOrDefault(finding => finding.Severity > Severity.Info) is Finding other =>
            $"Nothing wrong at this moment. In the whole recording: {Word(other.Severity)}: {Printable.Text(other.Text)}",
        null => picture.Universes.Count == 0 ? "No DMX is heard." : "Nothing wrong is heard.",
        { Severity: Severity.Info } finding => "No fault heard. To know: " + Printable.Text(finding.Text),
        { } finding => Word(finding.Severity) + ": " + Printable.Text(finding.Text),
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
    public bool Press(ScreenKey key, RigPicture? picture)
    {
        State.Answer = "";
        if (picture is null)
        {
            return key.Letter is not ('q' or 'Q');
        }

        bool stays = true;
        if (State.Typing is string typed)
        {
            Type(key, typed, picture);
        }
        else
        {
            stays = Act(key.Letter == 0 ? key : ScreenKey.Typed(char.ToUpperInvariant(key.Letter)), picture);
        }

        wish.Unit = State.View == ScreenView.Unit ? State.Unit : null;
        return stays;
    }

    /// <summary>Takes a click: on a row of a list it chooses, on the row chosen it is Enter, on a key it is the key.</summary>
    /// <returns>False when the person wants to leave.</returns>
    public bool Click(int column, int row, RigPicture? picture)
    {
        (int Row, int From, int To, ScreenKey Key) hit = _keys.Find(key => row == key.Row && column >= key.From && column < key.To);
        if (hit.To > 0)
        {
            return Press(hit.Key, picture);
        }

        if (review is not null && row == _shown.Count - 3 && _shown.Count > LeastRows)
        {
            review.Line.Go(review.Line.Moment(column - TimeLineRows.LineFrom, TimeLineRows.LineWidth(_width)));
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

        switch (State.View)
        {
            case ScreenView.Rig when choice <= picture.Universes.Count:
                State.Universe = picture.Universes[choice - 1].Summary.Id;
                break;
            case ScreenView.Universe when UnitsHere(picture) is { } units && choice <= units.Count:
                State.Unit = units[choice - 1];
                break;
            case ScreenView.Timing:
                State.Figure = choice - 1;
                break;
            case ScreenView.Findings:
                State.Finding = choice - 1;
                break;
            default:
                break;
        }

        return true;
    }

    private bool Act(ScreenKey key, RigPicture picture)
    {
        if (review is not null && Move(key, review))
        {
            return true;
        }

        switch (key)
        {
            case { Letter: 'Q' }:
                return false;
            case { Letter: 'R' }:
                Show(ScreenView.Rig);
                break;
            case { Kind: KeyKind.Back }:
                Show(State.View == ScreenView.Unit ? ScreenView.Universe : ScreenView.Rig);
                break;
            case { Letter: 'U' }:
                Show(ScreenView.Universe);
                break;
            case { Letter: 'T' }:
                Show(ScreenView.Timing);
                break;
            case { Letter: 'F' }:
                Show(ScreenView.Findings);
                break;
            case { Letter: 'G' }:
                State.Typing = sheet.IsGiven ? "" : null;
                State.TypingTime = false;
                State.Answer = sheet.IsGiven ? "" : "No patch sheet: start with --patch SHEET to go to a unit.";
                break;
            case { Letter: 'S' } when State.View is ScreenView.Universe or ScreenView.Unit:
                int senders = Senders(picture);
                State.Sender = senders > 0 ? (State.Sender + 1) % senders : 0;
                break;
            case { Letter: 'N' or 'P' } when State is { View: ScreenView.Unit, Unit: string unit }:
                GoTo(sheet.Beside(unit, key.Letter == 'N' ? 1 : -1), picture);
                break;
            case { Kind: KeyKind.Enter } when State.View == ScreenView.Findings:
                GoToFinding(picture);
                break;
            case { Kind: KeyKind.Enter } when State.View == ScreenView.Rig:
                Show(ScreenView.Universe);
                break;
            case { Kind: KeyKind.Enter } when State is { View: ScreenView.Universe, Unit: string unit }:
                GoTo(sheet.Find(unit), picture);
                break;
            default:
                Step(key.Kind, picture);
                break;
        }

        return true;
    }

    private static string Count(RigPicture picture) =>
        picture.Universes.Count == 1 ? "1 universe" : $"{picture.Universes.Count} universes";

    private int Senders(RigPicture picture) => State.View == ScreenView.Unit
        ? picture.Unit?.Explanation?.Senders.Count ?? 0
        : State.ChosenIn(picture)?.Senders.Count ?? 0;

    private string Bottom(RigPicture picture, int width, int row)
    {
        if (State.Typing is string typed)
        {
            string asked = State.TypingTime ? "Go to time (19:41:07, or seconds from the start)" : "Go to unit";
            return Wrapped.Cut($" {asked}: {Printable.Text(typed)}_   Enter goes   Esc leaves", width);
        }

        if (State.Answer.Length > 0)
        {
            return Wrapped.Cut(" " + State.Answer, width);
        }

        return Shown(Hints(picture), width, row);
    }

    private string Shown(IReadOnlyList<KeyHint> hints, int width, int row)
    {
        string text = "";
        foreach (KeyHint hint in hints)
        {
            if (text.Length + 2 + hint.Text.Length > width)
            {
                break;
            }

            text += text.Length == 0 ? " " : "  ";
            _keys.Add((row, text.Length, text.Length + hint.Text.Length, hint.Key));
            text += hint.Text;
        }

        return text;
    }

    private List<KeyHint> Hints(RigPicture picture)
    {
        KeyHint arrows(string does) => new("↑↓", does, new ScreenKey(KeyKind.Down));
        KeyHint enter(string does) => new("Enter", does, new ScreenKey(KeyKind.Enter));
        List<KeyHint> hints = State.View switch
        {
            ScreenView.Rig => [arrows("choose"), enter("slots")],
            ScreenView.Universe when UnitsHere(picture).Count > 0 => State.Unit is null ? [arrows("choose")] : [arrows("choose"), enter("unit")],
            ScreenView.Universe => [arrows("scroll")],
            ScreenView.Unit => [arrows(""), new("NP", "beside", ScreenKey.Typed('N'))],
            ScreenView.Findings => [arrows("choose"), enter("its slots")],
            _ => [arrows("choose")],
        };
        if (State.View is ScreenView.Universe or ScreenView.Unit && Senders(picture) > 1)
        {
            hints.Add(KeyHint.Letter('S', "sender"));
        }

        if (sheet.IsGiven)
        {
            hints.Add(KeyHint.Letter('G', "unit"));
        }

        foreach ((char letter, string does, ScreenView view) in new[]
        {
            ('R', "rig", ScreenView.Rig), ('U', "slots", ScreenView.Universe), ('T', "timing", ScreenView.Timing), ('F', "findings", ScreenView.Findings),
        })
        {
            if (State.View != view)
            {
                hints.Add(KeyHint.Letter(letter, does));
            }
        }

        hints.Add(KeyHint.Letter('Q', "ends"));
        return hints;
    }

    private void Show(ScreenView view)
    {
        if (State.View != view)
        {
            State.View = view;
            State.Sender = 0;
            State.Follow = view == ScreenView.Universe;
        }
    }

    private void Type(ScreenKey key, string typed, RigPicture picture)
    {
        State.Typing = key.Kind switch
        {
            KeyKind.Letter when typed.Length < LongestTyped && !char.IsControl(key.Letter) => typed + key.Letter,
            KeyKind.Erase => typed.Length > 0 ? typed[..^1] : "",
            KeyKind.Back or KeyKind.Enter => null,
            _ => typed,
        };
        if (key.Kind != KeyKind.Enter || typed.Length == 0)
        {
            return;
        }

        if (State.TypingTime)
        {
            GoToTime(typed);
        }
        else if (sheet.FindTyped(typed) is PatchUnit unit)
        {
            GoTo(unit, picture);
        }
        else
        {
            State.Answer = $"No unit of the sheet begins with '{Printable.Text(typed)}', and not exactly one ends so.";
        }
    }

    // Keys of the time line; false when it is none.
    private bool Move(ScreenKey key, ReviewPictures recording)
    {
        TimeLine line = recording.Line;
        switch (key)
        {
            case { Letter: ' ' }:
                line.Playing = !line.Playing;
                break;
            case { Kind: KeyKind.Left or KeyKind.Right }:
                line.Go(line.At + Duration.FromSeconds(key.Kind == KeyKind.Left ? -1 : 1));
                break;
            case { Kind: KeyKind.Home or KeyKind.End }:
                line.Go(key.Kind == KeyKind.Home ? line.First : line.Last);
                break;
            case { Letter: ',' or '.' }:
                GoOn(recording.Change(State.ChosenIn(recording.Picture())?.Summary.Id, key.Letter == '.'), line, key.Letter == '.' ? "Nothing changes after this." : "Nothing changed before this.");
                break;
            case { Letter: 'L' } when State is { View: ScreenView.Unit, Unit: string unit }:
                GoOn(recording.Look(unit), line, "Up to the end it goes on like this.");
                break;
            case { Letter: 'L' }:
                State.Answer = "Go to a unit first: this finds when it next goes dark, comes on or starts to flash.";
                break;
            case { Letter: 'M' }:
                GoOn(Next(recording.Survey.Marks.Select(mark => mark.Time), line), line, "No mark was made.");
                break;
            case { Letter: 'W' }:
                GoOn(Next(recording.Survey.Findings.Where(finding => finding.Severity > Severity.Info && finding.From > Timestamp.MinValue).Select(finding => finding.From), line), line, "No fault and no warning was found.");
                break;
            case { Letter: 'A' }:
                line.A = line.A == line.At ? null : line.At;
                break;
            case { Letter: 'B' }:
                line.B = line.B == line.At ? null : line.At;
                break;
            case { Letter: '+' or '-' }:
                line.Faster(key.Letter == '+');
                break;
            case { Letter: 'J' }:
                State.Typing = "";
                State.TypingTime = true;
                break;
            default:
                return false;
        }

        return true;
    }

    private void GoOn(Timestamp? moment, TimeLine line, string nothing)
    {
        if (moment is Timestamp known)
        {
            line.Go(known);
        }
        else
        {
            State.Answer = nothing;
        }
    }

    // The next one later than now, and from the last the first again.
    private static Timestamp? Next(IEnumerable<Timestamp> moments, TimeLine line)
    {
        List<Timestamp> all = [.. moments.Order()];
        int later = all.FindIndex(moment => moment > line.At);
        return all.Count == 0 ? null : all[Math.Max(0, later)];
    }

    private void GoToTime(string typed)
    {
        TimeLine line = review!.Line;
        try
        {
            Timestamp moment = AskedTime.Parse(typed, zone, "time").In(line.First);
            line.Go(moment);
            State.Answer = moment < line.First || moment > line.Last ? "The recording does not go so far." : "";
        }
        catch (UsageException refused)
        {
            State.Answer = Printable.Text(refused.Message);
        }
    }

    private void GoTo(PatchUnit? unit, RigPicture picture)
    {
        if (unit is null)
        {
            return;
        }

        if (picture.Map?.Ambiguous.FirstOrDefault(entry => entry.Sheet == unit.Universe) is { Choices: { } choices })
        {
            State.Answer = $"Universe {unit.Universe} of the sheet may be {string.Join(" or ", choices.Select(choice => choice.Label))}: start with --map.";
            return;
        }

        Show(ScreenView.Unit);
        State.Unit = unit.Unit;
        State.UnitTop = 0;
        State.Sender = 0;
        if (picture.Map?.Wire.TryGetValue(unit.Universe, out UniverseId wire) == true)
        {
            State.Universe = wire;
        }
    }

    private void GoToFinding(RigPicture picture)
    {
        if (State.Finding < picture.Survey.Findings.Count)
        {
            Finding finding = picture.Survey.Findings[State.Finding];
            if (finding.From > Timestamp.MinValue)
            {
                review?.Line.Go(finding.From);
            }

            if (picture.Universes.FirstOrDefault(universe => RigPicture.IsAbout(finding, universe.Summary.Id)) is UniversePicture about)
            {
                Show(ScreenView.Universe);
                State.Universe = about.Summary.Id;
                State.Unit = null;
                State.Top = 0;
            }
            else
            {
                State.Answer = "This is not about one universe.";
            }
        }
    }

    private List<string> UnitsHere(RigPicture picture) => State.ChosenIn(picture) is UniversePicture universe
        ? [.. sheet.UnitsOf(universe.Summary.Id, picture).Select(unit => unit.Unit.Unit)]
        : [];

    /// <summary>Goes up or down in the view.</summary>
    public void Step(KeyKind kind, RigPicture picture)
    {
        int step = kind switch { KeyKind.Up => -1, KeyKind.Down => 1, KeyKind.PageUp => -10, KeyKind.PageDown => 10, _ => 0 };
        if (step == 0)
        {
            return;
        }

        switch (State.View)
        {
            case ScreenView.Rig when picture.Universes.Count > 0:
                int now = picture.Universes.ToList().FindIndex(universe => universe == State.ChosenIn(picture));
                State.Universe = picture.Universes[Math.Clamp(now + step, 0, picture.Universes.Count - 1)].Summary.Id;
                break;
            case ScreenView.Universe when Math.Abs(step) == 1 && UnitsHere(picture) is { Count: > 0 } units:
                int at = units.IndexOf(State.Unit ?? "");
                State.Unit = units[at < 0 ? (step > 0 ? 0 : units.Count - 1) : Math.Clamp(at + step, 0, units.Count - 1)];
                State.Follow = true;
                break;
            case ScreenView.Universe:
                State.Top = Math.Max(0, State.Top + step);
                break;
            case ScreenView.Unit:
                State.UnitTop = Math.Max(0, State.UnitTop + step);
                break;
            case ScreenView.Timing:
                State.Figure = Math.Clamp(State.Figure + step, 0, Math.Max(0, TimingView.Ranked(picture).Count - 1));
                break;
            case ScreenView.Findings:
                State.Finding = Math.Clamp(State.Finding + step, 0, Math.Max(0, picture.Survey.Findings.Count - 1));
                break;
            default:
                break;
        }
    }
}
