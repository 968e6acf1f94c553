using DmxProbe.Fixtures.Patch;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tui;

/// <summary>What is typed on the screen: the name of a unit, or a time.</summary>
/// <param name="state">Where the person is.</param>
/// <param name="sheet">The patch sheet, if there is one.</param>
/// <param name="moves">Takes the person to the unit.</param>
/// <param name="times">Takes the recording to the time; null: what is heard.</param>
internal sealed class TypingKeys(ScreenState state, ScreenSheet sheet, ScreenMoves moves, TimeKeys? times)
{
    private const int LongestTyped = 40;

    /// <summary>Takes a key while something is being typed.</summary>
    public void Press(ScreenKey key, string typed, RigPicture picture)
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

        if (state.TypingTime && times is not null)
        {
            times.GoTo(typed);
        }
        else if (sheet.FindTyped(typed) is PatchUnit unit)
        {
            moves.GoTo(unit, picture);
        }
        else
        {
            state.Answer = $"No unit of the sheet begins with '{Printable.Text(typed)}', and not exactly one ends so.";
        }
    }
}
