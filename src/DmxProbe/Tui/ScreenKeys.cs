using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Cli;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>What each key does: it changes where the person is, the time line, or what a guided screen has been told.</summary>
/// <param name="state">Where the person is.</param>
/// <param name="sheet">The patch sheet, if there is one.</param>
/// <param name="zone">The zone of times.</param>
/// <param name="wish">Told what the person looks at.</param>
/// <param name="review">The recording shown; null: what is heard.</param>
/// <param name="guides">The guided screens; null: there are none.</param>
internal sealed class ScreenKeys(ScreenState state, ScreenSheet sheet, TimeZoneInfo zone, ScreenWish wish, ReviewPictures? review, ScreenGuides? guides)
{
    private const int LongestTyped = 40;

    /// <summary>Takes a key. A key that has no meaning here does nothing.</summary>
    /// <returns>False when the person wants to leave.</returns>
    public bool Press(ScreenKey key, RigPicture? picture)
    {
        state.Answer = "";
        if (state.Suspect is not null && picture is not null)
        {
            Ready(picture);

            // Whoever goes on meanwhile is not taken to the questions when the person comes back here one day.
            state.Suspect = null;
        }

        if (state.View == ScreenView.Locate)
        {
            return Guided(key, picture);
        }

        if (picture is null)
        {
            return key.Letter is not ('q' or 'Q');
        }

        Ready(picture);
        bool stays = true;
        if (state.Typing is string typed)
        {
            Type(key, typed, picture);
        }
        else if (state.View != ScreenView.Walk || guides?.Walk?.Press(key, picture.At) != true)
        {
            stays = Act(key.Letter == 0 ? key : ScreenKey.Typed(char.ToUpperInvariant(key.Letter)), picture);
        }

        Wish(picture);
        return stays;
    }

    /// <summary>Chooses a row of the view's list.</summary>
    /// <param name="choice">Its place, from 1.</param>
    /// <param name="picture">What is shown.</param>
    public void Choose(int choice, RigPicture picture)
    {
        switch (state.View)
        {
            case ScreenView.Rig when choice <= picture.Universes.Count:
                state.Universe = picture.Universes[choice - 1].Summary.Id;
                break;
            case ScreenView.Universe when UnitsHere(picture) is { } units && choice <= units.Count:
                state.Unit = units[choice - 1];
                break;
            case ScreenView.Timing:
                state.Figure = choice - 1;
                break;
            case ScreenView.Findings:
                state.Finding = choice - 1;
                break;
            default:
                break;
        }

        Wish(picture);
    }

    /// <summary>Begins what a view waits for, now that the picture has it.</summary>
    public void Ready(RigPicture picture)
    {
        // The levels of all universes come with the first picture of the unit, or of the check.
        if (guides is not null && state.Suspect is string name && state.View is ScreenView.Unit or ScreenView.Walk
            && (picture.Unit?.Name == name || picture.Walk is not null) && sheet.Find(name) is PatchUnit suspect)
        {
            state.Suspect = null;
            state.From = state.View;
            guides.Begin(suspect, picture);
            Show(ScreenView.Locate);
            return;
        }

        if (state.View != ScreenView.Walk || guides is null || guides.Walk is not null || picture.Walk is null)
        {
            return;
        }

        try
        {
            guides.Check(picture);
        }
        catch (Exception refused) when (refused is UsageException or InputException)
        {
            state.Answer = Printable.Text(refused.Message);
            state.View = ScreenView.Rig;
        }
    }

    /// <summary>The units of the chosen universe, by address; untrusted text.</summary>
    public IReadOnlyList<string> UnitsHere(RigPicture picture) => state.ChosenIn(picture) is UniversePicture universe
        ? [.. sheet.UnitsOf(universe.Summary.Id, picture).Select(unit => unit.Unit.Unit)]
        : [];

    /// <summary>How many senders the view can show.</summary>
    public int Senders(RigPicture picture) => state.View == ScreenView.Unit
        ? picture.Unit?.Explanation?.Senders.Count ?? 0
        : state.ChosenIn(picture)?.Senders.Count ?? 0;

    private void Wish(RigPicture picture) => wish.Set(
        state.View == ScreenView.Unit ? state.Unit : null,
        state.View == ScreenView.Universe ? state.ChosenIn(picture)?.Summary.Id : null,
        state.View == ScreenView.Walk);

    // All letters are the guide's: a key that missed must not lead away from a question.
    private bool Guided(ScreenKey key, RigPicture? picture)
    {
        if (guides?.Locate?.Press(key) == true)
        {
            guides.Top = 0;
            return true;
        }

        switch (key)
        {
            case { Kind: KeyKind.Up or KeyKind.Down } when guides is not null:
                guides.Top = Math.Max(0, guides.Top + (key.Kind == KeyKind.Up ? -1 : 1));
                return true;
            case { Kind: KeyKind.Back } when picture is not null:
                guides?.Leave();
                Show(state.From);
                Wish(picture);
                return true;
            case { Kind: KeyKind.Back } or { Letter: 'q' or 'Q' }:
                return false;
            case { Letter: '?' }:
                state.Answer = "Here: the large keys, ↑↓ scroll, Esc back, Q ends. All keys: Esc, then ?";
                return true;
            default:
                return true;
        }
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
            case { Kind: KeyKind.Back } when state.View == ScreenView.Keys:
                Show(state.From);
                break;
            case { Kind: KeyKind.Back }:
                Show(state.View == ScreenView.Unit ? ScreenView.Universe : ScreenView.Rig);
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
            case { Letter: 'C' }:
                Check();
                break;
            case { Letter: 'D' } when !sheet.IsGiven:
                state.Answer = "No patch sheet: start with --patch SHEET to find what a unit is reading.";
                break;
            case { Letter: 'D' } when guides is not null && Suspect() is PatchUnit suspect:
                state.Suspect = suspect.Unit;
                Ready(picture);
                break;
            case { Letter: 'G' }:
                state.Typing = sheet.IsGiven ? "" : null;
                state.TypingTime = false;
                state.Answer = sheet.IsGiven ? "" : "No patch sheet: start with --patch SHEET to go to a unit.";
                break;
            case { Letter: 'S' } when state.View is ScreenView.Universe or ScreenView.Unit:
                int senders = Senders(picture);
                state.Sender = senders > 0 ? (state.Sender + 1) % senders : 0;
                break;
            case { Letter: 'N' or 'P' } when state is { View: ScreenView.Unit, Unit: string unit }:
                GoTo(sheet.Beside(unit, key.Letter == 'N' ? 1 : -1), picture);
                break;
            case { Kind: KeyKind.Enter } when state.View == ScreenView.Findings:
                GoToFinding(picture);
                break;
            case { Kind: KeyKind.Enter } when state.View == ScreenView.Rig:
                Show(ScreenView.Universe);
                break;
            case { Kind: KeyKind.Enter } when state is { View: ScreenView.Universe, Unit: string unit }:
                GoTo(sheet.Find(unit), picture);
                break;
            case { Kind: KeyKind.Letter } when state.View != ScreenView.Keys:
                // Whoever looks for a key is shown all of them.
                state.From = state.View;
                Show(ScreenView.Keys);
                break;
            default:
                Step(key.Kind, picture);
                break;
        }

        return true;
    }

    // The unit that does not follow, by where the person is.
    private PatchUnit? Suspect() => state.View switch
    {
        ScreenView.Unit when state.Unit is string unit => sheet.Find(unit),
        ScreenView.Walk => guides?.Walk?.Unit,
        _ => null,
    };

    private void Check()
    {
        if (guides is { HasSheet: true })
        {
            Show(ScreenView.Walk);
        }
        else
        {
            state.Answer = "No patch sheet: start with --patch SHEET for the function check.";
        }
    }

    private void Show(ScreenView view)
    {
        if (state.View != view)
        {
            state.View = view;
            state.Sender = 0;
            state.Follow = view == ScreenView.Universe;
            state.Top = view == ScreenView.Keys ? 0 : state.Top;
            if (guides is not null)
            {
                guides.Top = 0;
            }
        }
    }

    private void Type(ScreenKey key, string typed, RigPicture picture)
    {
        state.Typing = key.Kind switch
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

        if (state.TypingTime)
        {
            GoToTime(typed);
        }
        else if (sheet.FindTyped(typed) is PatchUnit unit)
        {
            GoTo(unit, picture);
        }
        else
        {
            state.Answer = $"No unit of the sheet begins with '{Printable.Text(typed)}', and not exactly one ends so.";
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
                GoOn(recording.Change(state.ChosenIn(recording.Picture())?.Summary.Id, key.Letter == '.'), line, key.Letter == '.' ? "Nothing changes after this." : "Nothing changed before this.");
                break;
            case { Letter: 'L' } when state is { View: ScreenView.Unit, Unit: string unit }:
                GoOn(recording.Look(unit), line, "Up to the end it goes on like this.");
                break;
            case { Letter: 'L' }:
                state.Answer = "Go to a unit first: this finds when it next goes dark, comes on or starts to flash.";
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
                state.Typing = "";
                state.TypingTime = true;
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
            state.Answer = nothing;
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
        if (typed.StartsWith('t') || typed.StartsWith('T'))
        {
            GoOn(review.TimeCode.Find(typed[1..].Trim(), line.At), line, review.TimeCode.Spans.Count == 0
                ? "No time code was sent in this recording." : "That time code was never sent; write it as t1:00:12:05.");
            return;
        }

        try
        {
            Timestamp moment = AskedTime.Parse(typed, zone, "time").In(line.First);
            line.Go(moment);
            state.Answer = moment < line.First || moment > line.Last ? "The recording does not go so far." : "";
        }
        catch (UsageException)
        {
            // One row of 80 columns: what to write stands first.
            state.Answer = $"Write 19:41:07, 12.5 (seconds) or t1:00:12:05, not '{Printable.Text(typed)}'.";
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
            state.Answer = $"Universe {unit.Universe} of the sheet may be {string.Join(" or ", choices.Select(choice => choice.Label))}: start with --map.";
            return;
        }

        Show(ScreenView.Unit);
        state.Unit = unit.Unit;
        state.UnitTop = 0;
        state.Sender = 0;
        if (picture.Map?.Wire.TryGetValue(unit.Universe, out UniverseId wire) == true)
        {
            state.Universe = wire;
        }
    }

    private void GoToFinding(RigPicture picture)
    {
        if (state.Finding < picture.Survey.Findings.Count)
        {
            Finding finding = picture.Survey.Findings[state.Finding];
            if (finding.From > Timestamp.MinValue)
            {
                review?.Line.Go(finding.From);
            }

            if (picture.Universes.FirstOrDefault(universe => RigPicture.IsAbout(finding, universe.Summary.Id)) is UniversePicture about)
            {
                Show(ScreenView.Universe);
                state.Universe = about.Summary.Id;
                state.Unit = null;
                state.Top = 0;
            }
            else
            {
                state.Answer = "This is not about one universe.";
            }
        }
    }

    // Up or down in the view.
    private void Step(KeyKind kind, RigPicture picture)
    {
        int step = kind switch { KeyKind.Up => -1, KeyKind.Down => 1, KeyKind.PageUp => -10, KeyKind.PageDown => 10, _ => 0 };
        if (step == 0)
        {
            return;
        }

        switch (state.View)
        {
            case ScreenView.Rig when picture.Universes.Count > 0:
                int now = picture.Universes.ToList().FindIndex(universe => universe == state.ChosenIn(picture));
                state.Universe = picture.Universes[Math.Clamp(now + step, 0, picture.Universes.Count - 1)].Summary.Id;
                break;
            case ScreenView.Universe when Math.Abs(step) == 1 && UnitsHere(picture).ToList() is { Count: > 0 } units:
                int at = units.IndexOf(state.Unit ?? "");
                state.Unit = units[at < 0 ? (step > 0 ? 0 : units.Count - 1) : Math.Clamp(at + step, 0, units.Count - 1)];
                state.Follow = true;
                break;
            case ScreenView.Universe:
                state.Top = Math.Max(0, state.Top + step);
                break;
            case ScreenView.Unit:
                state.UnitTop = Math.Max(0, state.UnitTop + step);
                break;
            case ScreenView.Timing:
                state.Figure = Math.Clamp(state.Figure + step, 0, Math.Max(0, TimingView.Ranked(picture).Count - 1));
                break;
            case ScreenView.Keys:
                state.Top = Math.Max(0, state.Top + step);
                break;
            case ScreenView.Walk when guides is not null:
                guides.Top = Math.Max(0, guides.Top + Math.Sign(step));
                break;
            case ScreenView.Findings:
                state.Finding = Math.Clamp(state.Finding + step, 0, Math.Max(0, picture.Survey.Findings.Count - 1));
                break;
            default:
                break;
        }
    }
}
