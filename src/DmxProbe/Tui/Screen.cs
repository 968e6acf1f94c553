using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Cli.Text;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>
/// The screen without a terminal: a picture, where the person is and a size in, rows out; keys change where the person is.
/// </summary>
/// <param name="sheet">The patch sheet, if there is one.</param>
/// <param name="zone">The zone of times.</param>
internal sealed class Screen(ScreenSheet sheet, TimeZoneInfo zone)
{
    /// <summary>The narrowest terminal with views; a narrower one gets the answer alone.</summary>
    public const int Narrowest = 80;

    private const int LongestTyped = 40;

    /// <summary>Where the person is.</summary>
    public ScreenState State { get; } = new();

    /// <summary>The rows of a screen, from the top; never more than it has.</summary>
    /// <param name="picture">What to show; null before anything was heard.</param>
    /// <param name="width">Columns.</param>
    /// <param name="height">Rows.</param>
    public IReadOnlyList<ScreenRow> Rows(RigPicture? picture, int width, int height)
    {
        List<ScreenRow> rows = [];
        if (picture is null || picture.At == Timestamp.MinValue)
        {
            rows.Add(new ScreenRow(picture is { Ended: true } ? " The input has ended; nothing was in it." : " Nothing heard yet."));
            rows.Add(new ScreenRow(" Q ends", Tint.Frame));
            return rows[..Math.Min(rows.Count, height)];
        }

        if (width < Narrowest || height < 8)
        {
            return [.. Wrapped.Rows(Sentence(picture), Math.Max(10, width), "").Append(new ScreenRow("Q ends", Tint.Frame)).Take(height)];
        }

        WallClock clock = new(zone, null, null);
        string heard = picture.Ended ? "the input has ended" : "running";
        rows.Add(new ScreenRow($" {State.View}   {clock.Time(picture.At)[..8]}   {heard}   {Count(picture)}", Tint.Frame));
        rows.AddRange(Wrapped.Rows(Sentence(picture), width, " ", picture.Worst?.Severity switch
        {
            Severity.Fault => Tint.Fault,
            Severity.Warning => Tint.Warning,
            _ => Tint.Plain,
        }).Take(3));
        int room = height - rows.Count - 1;
        IReadOnlyList<ScreenRow> body = State.View switch
        {
            ScreenView.Rig => RigView.Rows(picture, State, sheet, width, room),
            ScreenView.Universe => UniverseView.Rows(picture, State, sheet, width, room),
            _ => FindingsView.Rows(picture, State, clock, width, room),
        };
        rows.AddRange(body.Take(room));
        while (rows.Count < height - 1)
        {
            rows.Add(new ScreenRow(""));
        }

        rows.Add(new ScreenRow(Keys(picture), Tint.Frame));
        return rows;
    }

    /// <summary>The whole answer in one sentence.</summary>
    public static string Sentence(RigPicture picture) => picture.Worst switch
    {
        null => picture.Universes.Count == 0 ? "No DMX is heard." : "Nothing wrong is heard on the network.",
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

        if (State.Typing is string typed)
        {
            Type(key, typed, picture);
            return true;
        }

        switch (key)
        {
            case { Letter: 'q' or 'Q' }:
                return false;
            case { Letter: 'r' or 'R' }:
            case { Kind: KeyKind.Back }:
                State.View = ScreenView.Rig;
                break;
            case { Letter: 'u' or 'U' }:
                Show(ScreenView.Universe);
                break;
            case { Letter: 'f' or 'F' }:
                Show(ScreenView.Findings);
                break;
            case { Letter: 'g' or 'G' }:
                State.Typing = sheet.IsGiven ? "" : null;
                State.Answer = sheet.IsGiven ? "" : "No patch sheet: start with --patch SHEET to go to a unit.";
                break;
            case { Letter: 's' or 'S' } when State.View == ScreenView.Universe:
                State.Sender = State.ChosenIn(picture) is { Senders.Count: > 0 } chosen ? (State.Sender + 1) % chosen.Senders.Count : 0;
                break;
            case { Kind: KeyKind.Enter } when State.View == ScreenView.Findings:
                GoToFinding(picture);
                break;
            case { Kind: KeyKind.Enter } when State.View == ScreenView.Rig:
                Show(ScreenView.Universe);
                break;
            default:
                Step(key.Kind, picture);
                break;
        }

        return true;
    }

    private static string Count(RigPicture picture) =>
        picture.Universes.Count == 1 ? "1 universe" : $"{picture.Universes.Count} universes";

    private string Keys(RigPicture picture)
    {
        if (State.Typing is string typed)
        {
            return $" Go to unit: {Printable.Text(typed)}_   Enter goes   Esc leaves";
        }

        if (State.Answer.Length > 0)
        {
            return " " + State.Answer;
        }

        string senders = State.ChosenIn(picture)?.Senders.Count > 1 ? "S other sender   " : "";
        return State.View switch
        {
            ScreenView.Rig => " Up Down choose   Enter its slots   F findings   G go to unit   Q ends",
            ScreenView.Universe => $" Up Down scroll   {senders}G go to unit   R rig   F findings   Q ends",
            _ => " Up Down choose   Enter its universe   R rig   U slots   Q ends",
        };
    }

    private void Show(ScreenView view)
    {
        State.View = view;
        State.Top = 0;
        State.Sender = 0;
        State.Unit = null;
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

        (PatchUnit Unit, UniverseId? Wire)? found = sheet.Find(typed, picture);
        if (found is not { } unit)
        {
            State.Answer = $"No unit of the sheet begins with '{Printable.Text(typed)}'.";
        }
        else if (unit.Wire is not UniverseId wire || picture.Universes.All(universe => universe.Summary.Id != wire))
        {
            State.Answer = $"{Printable.Text(unit.Unit.Unit)}: universe {unit.Unit.Universe} of the sheet is not heard here.";
        }
        else
        {
            Show(ScreenView.Universe);
            State.Universe = wire;
            State.Unit = unit.Unit.Unit;
        }
    }

    private void GoToFinding(RigPicture picture)
    {
        if (State.Finding < picture.Survey.Findings.Count)
        {
            string subject = picture.Survey.Findings[State.Finding].Subject;
            if (picture.Universes.FirstOrDefault(universe => universe.Summary.Id.Label == subject) is UniversePicture about)
            {
                Show(ScreenView.Universe);
                State.Universe = about.Summary.Id;
            }
            else
            {
                State.Answer = "This is not about one universe.";
            }
        }
    }

    private void Step(KeyKind kind, RigPicture picture)
    {
        int step = kind switch { KeyKind.Up => -1, KeyKind.Down => 1, KeyKind.PageUp => -10, KeyKind.PageDown => 10, _ => 0 };
        switch (State.View)
        {
            case ScreenView.Rig when picture.Universes.Count > 0:
                int now = picture.Universes.ToList().FindIndex(universe => universe == State.ChosenIn(picture));
                State.Universe = picture.Universes[Math.Clamp(now + step, 0, picture.Universes.Count - 1)].Summary.Id;
                break;
            case ScreenView.Universe:
                State.Top = Math.Max(0, State.Top + step);
                State.Unit = step == 0 ? State.Unit : null;
                break;
            case ScreenView.Findings:
                State.Finding = Math.Clamp(State.Finding + step, 0, Math.Max(0, picture.Survey.Findings.Count - 1));
                break;
            default:
                break;
        }
    }
}
