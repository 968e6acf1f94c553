using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Tui;

/// <summary>Where the keys take the person: to a view, to a unit, to what a finding is about, or up and down in a list.</summary>
/// <param name="state">Where the person is.</param>
/// <param name="sheet">The patch sheet, if there is one.</param>
/// <param name="line">The recording's time line; null: what is heard.</param>
/// <param name="guides">The guided screens; null: there are none.</param>
internal sealed class ScreenMoves(ScreenState state, ScreenSheet sheet, TimeLine? line, ScreenGuides? guides)
{
    /// <summary>The units of the chosen universe, by address; untrusted text.</summary>
    public IReadOnlyList<string> UnitsHere(RigPicture picture) => state.ChosenIn(picture) is UniversePicture universe
        ? [.. sheet.UnitsOf(universe.Summary.Id, picture).Select(unit => unit.Unit.Unit)]
        : [];

    /// <summary>Whether the chosen universe has units.</summary>
    public bool HasUnits(RigPicture picture) => state.ChosenIn(picture) is UniversePicture universe && sheet.UnitsOf(universe.Summary.Id, picture).Count > 0;

    /// <summary>How many senders the view can show.</summary>
    public int Senders(RigPicture picture) => state.View == ScreenView.Unit
        ? picture.Unit?.Explanation?.Senders.Count ?? 0
        : state.ChosenIn(picture)?.Senders.Count ?? 0;

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
    }

    /// <summary>Shows a view.</summary>
    public void Show(ScreenView view)
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

    /// <summary>Goes to a unit of the sheet; null: nothing is done.</summary>
    public void GoTo(PatchUnit? unit, RigPicture picture)
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

    /// <summary>Goes to what the chosen finding is about, and to when it began.</summary>
    public void GoToFinding(RigPicture picture)
    {
        if (state.Finding < picture.Survey.Findings.Count)
        {
            Finding finding = picture.Survey.Findings[state.Finding];
            if (finding.From > Timestamp.MinValue)
            {
                line?.Go(finding.From);
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

    /// <summary>Goes up or down in the view; a key that means neither does nothing.</summary>
    public void Step(KeyKind kind, RigPicture picture)
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
