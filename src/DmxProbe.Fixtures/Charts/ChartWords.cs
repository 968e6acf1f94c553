using System.Text;

namespace DmxProbe.Fixtures.Charts;

/// <summary>Cuts the words of a chart into plain upper-case words, so that spelling and punctuation do not matter.</summary>
internal static class ChartWords
{
    /// <summary>The words of a text, with spaces around and between them: <c>"Red1 (fine)"</c> becomes <c>" RED FINE "</c>.</summary>
    public static string Of(string text)
    {
        StringBuilder words = new(" ");
        bool inWord = false;
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            bool co2 = inWord && c == '2' && words.ToString().EndsWith(" CO", StringComparison.Ordinal);
            if (char.IsLetter(c) || co2)
            {
                // PanFine and panFine are two words.
                if (inWord && char.IsUpper(c) && i > 0 && char.IsLower(text[i - 1]))
                {
                    words.Append(' ');
                }

                words.Append(char.ToUpperInvariant(c));
                inWord = true;
            }
            else if (inWord)
            {
                words.Append(' ');
                inWord = false;
            }
        }

        return inWord ? words.Append(' ').ToString() : words.ToString();
    }

    /// <summary>Whether one of the words or phrases stands in the words.</summary>
    public static bool Has(string words, ReadOnlySpan<string> phrases)
    {
        foreach (string phrase in phrases)
        {
            int at = words.IndexOf(phrase, StringComparison.Ordinal);
            while (at >= 0)
            {
                if (words[at - 1] == ' ' && words[at + phrase.Length] == ' ')
                {
                    return true;
                }

                at = words.IndexOf(phrase, at + 1, StringComparison.Ordinal);
            }
        }

        return false;
    }
}
