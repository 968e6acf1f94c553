using System.Globalization;
using System.Text;

namespace DmxProbe.Reporting.Text;

/// <summary>
/// The one place where untrusted text (names from packets, files and sheets) becomes text that a terminal may show.
/// </summary>
public static class Printable
{
    // A letter carries at most this many combining marks; more are a way of writing over the lines above and below.
    private const int MarksShown = 2;

    /// <summary>
    /// The text with every character that a terminal obeys or hides written as <c>\u001B</c>: C0 and C1 controls, line
    /// and paragraph separators, bidirectional and zero-width characters, unassigned and private ones, lone surrogates.
    /// Ordinary letters of any script stay as they are.
    /// </summary>
    /// <param name="text">Untrusted text; null counts as empty.</param>
    /// <returns>One line of text, safe to print.</returns>
    public static string Text(string? text)
    {
        if (string.IsNullOrEmpty(text))
        {
            return "";
        }

        int marks = 0;
        StringBuilder? changed = null;
        ReadOnlySpan<char> rest = text;
        int position = 0;
        while (!rest.IsEmpty)
        {
            bool whole = Rune.DecodeFromUtf16(rest, out Rune rune, out int length) == System.Buffers.OperationStatus.Done;
            UnicodeCategory category = whole ? Rune.GetUnicodeCategory(rune) : UnicodeCategory.Surrogate;
            marks = category is UnicodeCategory.NonSpacingMark or UnicodeCategory.EnclosingMark ? marks + 1 : 0;
            bool safe = whole && marks <= MarksShown && IsShown(rune, category);
            if (!safe && changed is null)
            {
                changed = new StringBuilder(text.Length + 16).Append(text, 0, position);
            }

            if (safe)
            {
                changed?.Append(rest[..length]);
            }
            else
            {
                foreach (char unit in rest[..length])
                {
                    changed!.Append(CultureInfo.InvariantCulture, $"\\u{(int)unit:X4}");
                }
            }

            rest = rest[length..];
            position += length;
        }

        return changed?.ToString() ?? text;
    }

    private static bool IsShown(Rune rune, UnicodeCategory category) => category switch
    {
        UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.Surrogate => false,
        UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator => false,
        UnicodeCategory.PrivateUse or UnicodeCategory.OtherNotAssigned => false,
        _ => !IsBlankOrInvisible(rune.Value),
    };

    // Letters and marks by category that show nothing: fillers, the grapheme joiner, variation selectors, blank braille.
    private static bool IsBlankOrInvisible(int value) => value is
        0x034F or 0x115F or 0x1160 or 0x17B4 or 0x17B5 or 0x2800 or 0x3164 or 0xFFA0
        or (>= 0x180B and <= 0x180F) or (>= 0xFE00 and <= 0xFE0F) or (>= 0xE0100 and <= 0xE01EF);
}
