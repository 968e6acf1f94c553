using System.Globalization;
using System.Text.RegularExpressions;

namespace DmxProbe.Tests.Cli;

/// <summary>
/// The stage: a 10-slot wash at an address of universe 1. At 1.016 its dimmer is slot 16, and its green and blue lie on
/// the ultraviolet and zoom of LX1-2, which stand above 0 all evening: slot 16 alone lights it. At 1.061 it needs a colour.
/// </summary>
internal sealed partial class Stage(int address)
{
    private readonly HashSet<int> _up = [];

    public int Questions { get; private set; }

    public int Lie { get; init; }

    /// <summary>Whether everything that the questions neither raise nor name stands at 0: a controller that holds nothing of the show.</summary>
    public bool IsElseAtZero { get; init; }

    public int StopAfter { get; init; } = int.MaxValue;

    public string? Answer(string shown)
    {
        if (shown.EndsWith("(yes or no)", StringComparison.Ordinal))
        {
            return "no";
        }

        if (shown.EndsWith("Enter: as found)", StringComparison.Ordinal))
        {
            return "set to 061";
        }

        if (shown.EndsWith("leave them alone)", StringComparison.Ordinal))
        {
            return "";
        }

        if (Questions == StopAfter)
        {
            return "q";
        }

        Questions++;
        string question = shown[shown.LastIndexOf("Question ", StringComparison.Ordinal)..];
        MatchCollection pages = Page().Matches(question);
        if (pages.Count == 0)
        {
            _up.Clear();
            Raise(question[question.IndexOf("raise only", StringComparison.Ordinal)..question.IndexOf(" to full", StringComparison.Ordinal)]);
        }

        foreach (Match page in pages)
        {
            int[] all = Slots(page.Groups[3].Value);
            int size = int.Parse(page.Groups[1].Value, CultureInfo.InvariantCulture);
            _up.RemoveWhere(slot => page.Groups[2].Value == "1" && IsOnPage(slot, size));
            _up.UnionWith(all);
        }

        HashSet<int> left = IsElseAtZero ? [.. Left().Matches(question).SelectMany(match => Slots(match.Groups[1].Value))] : [18, 19];
        left.IntersectWith([18, 19]);
        bool lit = _up.Contains(address) && new[] { 1, 2, 3, 4, 9 }.Any(offset => _up.Contains(address + offset) || left.Contains(address + offset));
        return lit != (Questions == Lie) ? "lit" : "dark";
    }

    /// <summary>A person who brings up existing looks, and is asked by the time of each.</summary>
    public static Func<string, string?> OfLooks(Func<string, string> answer) => shown =>
        shown.EndsWith("(yes or no)", StringComparison.Ordinal) ? "no"
        : LookTime().Match(shown) is { Success: true } look ? answer(look.Groups[1].Value)
        : "";

    [GeneratedRegex(@"bring up the look that stood at (\S+) \(", RegexOptions.IgnoreCase)]
    private static partial Regex LookTime();

    public int Faders { get; init; } = 8;

    private bool IsOnPage(int slot, int page) => ((slot - 1) / Faders) + 1 == page;

    private void Raise(string text) => _up.UnionWith(Slots(text));

    private static int[] Slots(string text) =>
    [
        .. Slot().Matches(text).Where(match => match.Groups[1].Value == "1").SelectMany(match =>
        {
            int from = int.Parse(match.Groups[2].Value, CultureInfo.InvariantCulture);
            int to = match.Groups[3].Success ? int.Parse(match.Groups[3].Value, CultureInfo.InvariantCulture) : from;
            return Enumerable.Range(from, to - from + 1);
        }),
    ];

    [GeneratedRegex(@"(\d+)\.(\d{3})(?: to \d+\.(\d{3}))?")]
    private static partial Regex Slot();

    [GeneratedRegex("leave ([^;]*?) as (?:it|they) stood")]
    private static partial Regex Left();

    [GeneratedRegex(@"[Pp]age (\d+) of universe (\d+): (all faders down|only .*? to full)")]
    private static partial Regex Page();
}
