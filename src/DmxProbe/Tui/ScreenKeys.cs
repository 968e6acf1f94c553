using DmxProbe.Cli;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>What each key does: it changes where the person is, the time line, or what a guided screen has been told.</summary>
internal sealed class ScreenKeys
{
    private readonly ScreenState _state;
    private readonly ScreenSheet _sheet;
    private readonly ScreenWish _wish;
    private readonly ScreenGuides? _guides;
    private readonly TimeKeys? _times;
    private readonly TypingKeys _typing;

    /// <summary>Takes the keys of a screen.</summary>
    /// <param name="state">Where the person is.</param>
    /// <param name="sheet">The patch sheet, if there is one.</param>
    /// <param name="zone">The zone of times.</param>
    /// <param name="wish">Told what the person looks at.</param>
    /// <param name="review">The recording shown; null: what is heard.</param>
    /// <param name="guides">The guided screens; null: there are none.</param>
    public ScreenKeys(ScreenState state, ScreenSheet sheet, TimeZoneInfo zone, ScreenWish wish, ReviewPictures? review, ScreenGuides? guides)
    {
        _state = state;
        _sheet = sheet;
        _wish = wish;
        _guides = guides;
        Moves = new ScreenMoves(state, sheet, review?.Line, guides);
        _times = review is null ? null : new TimeKeys(state, review, zone);
        _typing = new TypingKeys(state, sheet, Moves, _times);
    }

    /// <summary>Where the keys take the person.</summary>
    public ScreenMoves Moves { get; }

    /// <summary>Takes a key. A key that has no meaning here does nothing.</summary>
    /// <returns>False when the person wants to leave.</returns>
    public bool Press(ScreenKey key, RigPicture? picture)
    {
        _state.Answer = "";
        if (_state.Suspect is not null && picture is not null)
        {
            Ready(picture);

            // Whoever goes on meanwhile is not taken to the questions when the person comes back here one day.
            _state.Suspect = null;
        }

        if (_state.View == ScreenView.Locate)
        {
            return Guided(key, picture);
        }

        if (picture is null)
        {
            return key.Letter is not ('q' or 'Q');
        }

        Ready(picture);
        bool stays = true;
        if (_state.Typing is string typed)
        {
            _typing.Press(key, typed, picture);
        }
        else if (_state.View != ScreenView.Walk || _guides?.Walk?.Press(key, picture.At) != true)
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
        Moves.Choose(choice, picture);
        Wish(picture);
    }

    /// <summary>Begins what a view waits for, now that the picture has it.</summary>
    public void Ready(RigPicture picture)
    {
        // The levels of all universes come with the first picture of the unit, or of the check.
        if (_guides is not null && _state.Suspect is string name && _state.View is ScreenView.Unit or ScreenView.Walk
            && (picture.Unit?.Name == name || picture.Walk is not null) && _sheet.Find(name) is PatchUnit suspect)
        {
            _state.Suspect = null;
            _state.From = _state.View;
            _guides.Begin(suspect, picture);
            Moves.Show(ScreenView.Locate);
            return;
        }

        if (_state.View != ScreenView.Walk || _guides is null || _guides.Walk is not null || picture.Walk is null)
        {
            return;
        }

        try
        {
            _guides.Check(picture);
        }
        catch (Exception refused) when (refused is UsageException or InputException)
        {
            _state.Answer = Printable.Text(refused.Message);
            _state.View = ScreenView.Rig;
        }
    }

    private void Wish(RigPicture picture) => _wish.Set(
        _state.View == ScreenView.Unit ? _state.Unit : null,
        _state.View == ScreenView.Universe ? _state.ChosenIn(picture)?.Summary.Id : null,
        _state.View == ScreenView.Walk);

    // All letters are the guide's: a key that missed must not lead away from a question.
    private bool Guided(ScreenKey key, RigPicture? picture)
    {
        _guides?.Locate?.Hear(picture);
        if (_guides?.Locate?.Press(key) == true)
        {
            _guides.Top = 0;
            return true;
        }

        switch (key)
        {
            case { Kind: KeyKind.Up or KeyKind.Down } when _guides is not null:
                _guides.Top = Math.Max(0, _guides.Top + (key.Kind == KeyKind.Up ? -1 : 1));
                return true;
            case { Kind: KeyKind.Back } when picture is not null:
                _guides?.Leave();
                Moves.Show(_state.From);
                Wish(picture);
                return true;
            case { Kind: KeyKind.Back } or { Letter: 'q' or 'Q' }:
                return false;
            case { Letter: '?' }:
                _state.Answer = picture is null
                    ? "Here: the large keys answer, ↑↓ scroll, Esc or Q stops here; what was answered then counts."
                    : "Here: the large keys, ↑↓ scroll, Esc back, Q ends. All keys: Esc, then ?";
                return true;
            default:
                return true;
        }
    }

    private bool Act(ScreenKey key, RigPicture picture)
    {
        if (_times?.Press(key) == true)
        {
            return true;
        }

        switch (key)
        {
            case { Letter: 'Q' }:
                return false;
            case { Letter: 'R' }:
                Moves.Show(ScreenView.Rig);
                break;
            case { Kind: KeyKind.Back } when _state.View == ScreenView.Keys:
                Moves.Show(_state.From);
                break;
            case { Kind: KeyKind.Back }:
                Moves.Show(_state.View == ScreenView.Unit ? ScreenView.Universe : ScreenView.Rig);
                break;
            case { Letter: 'U' }:
                Moves.Show(ScreenView.Universe);
                break;
            case { Letter: 'T' }:
                Moves.Show(ScreenView.Timing);
                break;
            case { Letter: 'F' }:
                Moves.Show(ScreenView.Findings);
                break;
            case { Letter: 'C' }:
                Check();
                break;
            case { Letter: 'D' } when !_sheet.IsGiven:
                _state.Answer = "No patch sheet: start with --patch SHEET to find what a unit is reading.";
                break;
            case { Letter: 'D' } when _guides is not null && Suspect() is PatchUnit suspect:
                _state.Suspect = suspect.Unit;
                Ready(picture);
                break;
            case { Letter: 'G' }:
                _state.Typing = _sheet.IsGiven ? "" : null;
                _state.TypingTime = false;
                _state.Answer = _sheet.IsGiven ? "" : "No patch sheet: start with --patch SHEET to go to a unit.";
                break;
            case { Letter: 'S' } when _state.View is ScreenView.Universe or ScreenView.Unit:
                int senders = Moves.Senders(picture);
                _state.Sender = senders > 0 ? (_state.Sender + 1) % senders : 0;
                break;
            case { Letter: 'N' or 'P' } when _state is { View: ScreenView.Unit, Unit: string unit }:
                Moves.GoTo(_sheet.Beside(unit, key.Letter == 'N' ? 1 : -1), picture);
                break;
            case { Kind: KeyKind.Enter } when _state.View == ScreenView.Findings:
                Moves.GoToFinding(picture);
                break;
            case { Kind: KeyKind.Enter } when _state.View == ScreenView.Rig:
                Moves.Show(ScreenView.Universe);
                break;
            case { Kind: KeyKind.Enter } when _state is { View: ScreenView.Universe, Unit: string unit }:
                Moves.GoTo(_sheet.Find(unit), picture);
                break;
            case { Kind: KeyKind.Letter } when _state.View != ScreenView.Keys:
                // Whoever looks for a key is shown all of them.
                _state.From = _state.View;
                Moves.Show(ScreenView.Keys);
                break;
            default:
                Moves.Step(key.Kind, picture);
                break;
        }

        return true;
    }

    // The unit that does not follow, by where the person is.
    private PatchUnit? Suspect() => _state.View switch
    {
        ScreenView.Unit when _state.Unit is string unit => _sheet.Find(unit),
        ScreenView.Walk => _guides?.Walk?.Unit,
        _ => null,
    };

    private void Check()
    {
        if (_guides is { HasSheet: true })
        {
            Moves.Show(ScreenView.Walk);
        }
        else
        {
            _state.Answer = "No patch sheet: start with --patch SHEET for the function check.";
        }
    }
}
