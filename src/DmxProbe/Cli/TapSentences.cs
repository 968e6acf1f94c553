using System.Text.RegularExpressions;

using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Timing;
using DmxProbe.Cli.Text;

namespace DmxProbe.Cli;

/// <summary>What two taps say of each other as sentences for a page.</summary>
internal static partial class TapSentences
{
    private const int TextWidth = 10_000;

    /// <summary>A sentence each; empty where there is no pair.</summary>
    /// <param name="inputs">The inputs.</param>
    /// <param name="pairs">Those that are two taps of one show.</param>
    public static IReadOnlyList<string> Of(IReadOnlyList<TimedInput> inputs, IReadOnlyList<TapPair> pairs)
    {
        TextPage page = new(TextWidth, color: false);
        TapText.Write(page, inputs, pairs);
        return Lines(page);
    }

    /// <summary>The lines of a text page as sentences.</summary>
    public static IReadOnlyList<string> Lines(TextPage page)
    {
        using StringWriter text = new() { NewLine = "\n" };
        page.WriteTo(text);
        return [.. text.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(line => Label().Replace(line, "$1: "))];
    }

    // A label in a column of its own becomes a word with a colon.
    [GeneratedRegex(@"^(\S(?: ?\S)*)\s{2,}")]
    private static partial Regex Label();
}
