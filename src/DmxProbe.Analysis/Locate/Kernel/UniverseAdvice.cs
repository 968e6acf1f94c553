using System.Globalization;
using DmxProbe.Analysis.Findings;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Locate;

/// <summary>What to do first where a unit hears another universe than the sheet says: an address is counted in the universe that is heard.</summary>
internal static class UniverseAdvice
{
    /// <summary>Whether a place is on another universe than the sheet has the unit on.</summary>
    public static bool IsElsewhere(LocateCandidate place, LocateCase about) => about.SheetUniverses[place.Hypothesis.History] != about.Unit.Universe;

    /// <summary>How the unit is brought to the universe of the sheet, without the sentence's begin and end.</summary>
    public static string Bring(LocateCase about)
    {
        string universe = Text($"universe {about.Unit.Universe}");
        string name = new PatchChains(about.Sheet).Of(about.Unit).Chain;
        string chain = name.Length > 0 ? $" (chain {LocateWords.Plain(name)})" : "";
        string itself = about.Unit.Wireless.Length > 0
            ? $"a radio receiver, or a unit that takes the network itself, is set to {universe}"
            : $"a unit that takes the network itself is set to {universe}";
        int history = about.SheetUniverses.ToList().IndexOf(about.Unit.Universe);
        string wire = history >= 0 ? $" ({about.Question.Histories[history].Universe.Label})" : "";
        return $"bring {LocateWords.Plain(about.Unit.Unit)} to {universe}{wire}: plug its line{chain} into the output of {universe}, or route {universe} to the output it is on; {itself}";
    }

    /// <summary>What the others of its chain say about the sheet and the line; empty where it has no chain, or is alone on it.</summary>
    /// <param name="found">The sheet's number of the universe that is heard; -1 where the sheet has none.</param>
    /// <param name="about">What it is about.</param>
    public static string Chain(int found, LocateCase about)
    {
        PatchChains chains = new(about.Sheet);
        string chain = chains.Of(about.Unit).Chain;
        PatchUnit[] others =
        [
            .. about.Sheet.Units.Where(unit => chain.Length > 0 && unit.Unit != about.Unit.Unit && chains.Of(unit).Chain.Equals(chain, StringComparison.OrdinalIgnoreCase)),
        ];
        PatchUnit[] there = [.. others.Where(unit => unit.Universe == found)];
        return there.Length > 0
            ? Text($" Or it is the sheet that is wrong: by it {Names(there)} of its chain {(there.Length == 1 ? "is" : "are")} on universe {found} already, and a cable carries one universe; if that is so, mend the sheet instead, and find it a free address on universe {found}.")
            : others.Length > 0
            ? $" If {Names(others)} of its chain {(others.Length == 1 ? "hears" : "hear")} that universe too, the line is in the wrong output; if not, it is {LocateWords.Plain(about.Unit.Unit)} alone."
            : "";
    }

    private static string Names(PatchUnit[] units) => Words.List(units.Select(unit => LocateWords.Plain(unit.Unit)));

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
