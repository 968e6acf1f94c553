using System.Globalization;
using DmxProbe.Analysis.Findings;

namespace DmxProbe.Analysis.Locate.Together;

/// <summary>Puts what several units have in common into words.</summary>
public static class RowNarrator
{
    /// <summary>What to say before anybody acts on a row.</summary>
    public const string Caution = "Before setting addresses or modes: the units may move or strike; nobody at them, nobody on a ladder under them; a light that follows the same cues from data that was not captured cannot be excluded by listening: do one confirming look for each group";

    private const int MostNamed = 6;

    /// <summary>Makes the statements.</summary>
    /// <param name="result">What came of locating them.</param>
    /// <param name="cases">What the words of each unit are made from, in the order of the result.</param>
    public static IReadOnlyList<RowStatement> Statements(TogetherResult result, IReadOnlyList<LocateCase> cases)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(cases);
        return [.. result.Findings.Select(finding => Statement(finding, result, cases))];
    }

    /// <summary>Where a candidate reads, for a table: <c>1.016</c>, with the mode where it is not the sheet's.</summary>
    /// <param name="candidate">The candidate.</param>
    /// <param name="about">What it is about.</param>
    public static string Where(LocateCandidate candidate, LocateCase about) => LocateWords.PlaceAndMode(candidate, about);

    private static RowStatement Statement(RowFinding finding, TogetherResult result, IReadOnlyList<LocateCase> cases)
    {
        string units = Names(finding.Units);
        string first = LocateWords.Plain(finding.Units[0]);
        return finding.Kind switch
        {
            RowFindingKind.ShiftedFrom => From(finding, result, cases, units, first),
            RowFindingKind.ShiftedAll => new RowStatement(
                finding,
                Text($"{units} all read {Slots(finding.Shift.Slots)} than the sheet says: one cause in front of all of them, not {finding.Units.Count} wrong addresses."),
                Math.Abs(finding.Shift.Slots) == 1
                    ? "Check whether the sheet, the controller or the units count addresses from 0 before any of them is set; correct it in that one place."
                    : "Check what stands in front of the first of them on its line, and whether the controller patches this universe from another slot on; correct it in that one place."),
            RowFindingKind.OtherUniverse => new RowStatement(
                finding,
                Text($"{units} all read {Universe(finding, cases)}{(finding.Shift.Slots == 0 ? "" : ", " + Slots(finding.Shift.Slots))} instead of the universe on the sheet: one cause in front of all of them."),
                "Check which universe the gateway's output for this line is set to, and that the line is in the socket meant, before any unit is set."),
            RowFindingKind.Twins => new RowStatement(
                finding,
                Text($"{units} read the same address, {Place(finding.Units[0], result, cases)}."),
                "Set the one that the sheet has elsewhere to its own address."),
            RowFindingKind.Swapped => new RowStatement(
                finding,
                Text($"{units} have each other's address."),
                "Set both to their own addresses, or exchange their names on the sheet."),
            _ => new RowStatement(
                finding,
                Text($"{units} cannot be told apart yet: their light fits the same places, which {(HaveSameValues(finding, result, cases) ? "carried the same values so far" : "this evidence does not tell apart")}."),
                "Record on through cues in which they differ, or do the look that is named for each."),
        };
    }

    private static RowStatement From(RowFinding finding, TogetherResult result, IReadOnlyList<LocateCase> cases, string units, string first)
    {
        int at = finding.Culprit is null ? -1 : result.Units.ToList().FindIndex(unit => unit.Unit.Name == finding.Culprit);
        if (at < 0)
        {
            return new RowStatement(
                finding,
                Text($"From {first} on everything reads {Slots(finding.Shift.Slots)} than in front of it ({units}): one cause between them and the units in front."),
                "Check the modes of the units just in front of it and how the addresses behind were counted; correct it in one place.");
        }

        RowUnit culprit = result.Units[at];
        LocateCase about = cases[at];
        string mode = LocateWords.Plain(about.Question.Modes[finding.CulpritMode].Name);
        int takes = about.Question.Modes[finding.CulpritMode].Footprint;
        bool seen = culprit.IsClaimed && culprit.Result.Best!.Hypothesis.Mode == finding.CulpritMode;
        string name = LocateWords.Plain(finding.Culprit!);
        return new RowStatement(
            finding,
            Text($"From {first} on everything reads {Slots(finding.Shift.Slots)} than the units in front ({units}): {name} {(seen ? "is" : "would be")} in mode {mode} of {takes} slots, where the sheet says {LocateWords.Plain(about.Unit.Mode)} of {about.Question.Modes[0].Footprint}{(seen ? "" : "; its own light does not settle that yet")}."),
            Text($"Look at the mode that {name} shows. If it is {mode}: set {name} to {LocateWords.Plain(about.Unit.Mode)} and all behind it to the addresses of the sheet, or patch the controller to what was found."));
    }

    private static string Place(string unit, TogetherResult result, IReadOnlyList<LocateCase> cases)
    {
        int at = result.Units.ToList().FindIndex(each => each.Unit.Name == unit);
        return LocateWords.Place(result.Units[at].Result.Best!, cases[at]);
    }

    private static string Universe(RowFinding finding, IReadOnlyList<LocateCase> cases)
    {
        int sheet = cases[0].SheetUniverses[finding.Shift.History];
        string wire = cases[0].Question.Histories[finding.Shift.History].Universe.Label;
        return sheet >= 0 ? Text($"universe {sheet} ({wire})") : wire;
    }

    private static string Slots(int slots) => Text($"{Math.Abs(slots)} slot{(Math.Abs(slots) == 1 ? "" : "s")} {(slots > 0 ? "higher" : "lower")}");

    // Of each unit by its own places: their modes, and with them the slots that make the light, may differ.
    private static bool HaveSameValues(RowFinding finding, TogetherResult result, IReadOnlyList<LocateCase> cases) =>
        Enumerable.Range(0, result.Units.Count).Where(i => finding.Units.Contains(result.Units[i].Unit.Name))
            .All(i => SameValues.In(result.Units[i].Result.ClassMembers, cases[i].Question));

    private static string Names(IReadOnlyList<string> units) => Words.List(units.Select(LocateWords.Plain), MostNamed);

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
