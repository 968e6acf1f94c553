using System.Globalization;
using System.Text;

namespace DmxProbe.Fixtures.Tables;

/// <summary>Makes text of a file safe to show inside a sentence.</summary>
internal static class Shown
{
    private const int MaxCharacters = 60;

    /// <summary>The text in quotes, cut to 60 characters, with everything that could move a cursor or hide text escaped.</summary>
    public static string Quoted(string text)
    {
        StringBuilder shown = new("'");
        foreach (Rune rune in text.EnumerateRunes())
        {
            if (shown.Length > MaxCharacters)
            {
                return shown.Append("...'").ToString();
            }

            _ = !IsHidden(rune) ? shown.Append(rune.ToString()) : shown.Append(CultureInfo.InvariantCulture, $"\\u{rune.Value:X4}");
        }

        return shown.Append('\'').ToString();
    }

    /// <summary>Whether a character shows nothing, or moves what shows: C0 and C1 controls, direction and zero-width characters, separators of lines, lone surrogates, private use.</summary>
    public static bool IsHidden(Rune rune) => Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control or UnicodeCategory.Format or
        UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator or UnicodeCategory.Surrogate or
        UnicodeCategory.PrivateUse or UnicodeCategory.OtherNotAssigned;

    /// <summary>What stands in a cell: the text in quotes, or the word nothing.</summary>
    public static string Cell(string text) => text.Length == 0 ? "nothing" : Quoted(text);

    /// <summary>A number for a sentence.</summary>
    public static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);
}
