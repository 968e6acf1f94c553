using System.Globalization;

using DmxProbe.Analysis.Compare.Nights;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Text;

/// <summary>Tonight against last night, as text: ten lines, what matters most first.</summary>
internal static class NightText
{
    private const int MostLines = 10;

    /// <summary>Writes the answer.</summary>
    public static void Write(TextPage page, CompareRun run, NightComparison nights, bool all, TimeZoneInfo zone)
    {
        (CompareSide last, CompareSide tonight) = (run.Sides[0], run.Sides[1]);
        WallClock now = new(zone, tonight.First, tonight.Last);
        WallClock before = new(zone, last.First, last.Last);
        int count = nights.Differences.Count;
        page.Paragraph(
            count == 0
                ? $"Tonight is as last night: {Figures.Count(nights.CuesInBoth, "cue")} found in both, {Figures.Count(nights.LooksCompared, "look")} compared."
                : $"Tonight differs from last night in {Figures.Count(count, "thing")}; {Figures.Count(nights.CuesInBoth, "cue")} found in both, {Figures.Count(nights.LooksCompared, "look")} compared.",
            tone: count == 0 ? Tone.Good : Tone.Fault);
        if (count > 0)
        {
            page.Blank();
        }

        foreach (NightDifference difference in nights.Differences.Take(all ? int.MaxValue : MostLines))
        {
            string when = difference.At is Timestamp at ? now.Time(at) : difference.AtLastNight is Timestamp then ? before.Time(then) : "whole night";
            page.Labelled(when, Words(difference), Math.Max(14, when.Length + 2));
        }

        if (!all && count > MostLines)
        {
            page.Paragraph($"and {Figures.Count(count - MostLines)} more (--all shows them; --json has 20)", indent: 2);
        }

        page.Blank();
        page.Heading("Evidence");
        page.Paragraph($"last night: {last.Name}, {Span(before, last)}, {Figures.Count(nights.CuesLastNight, "cue")}", indent: 2);
        page.Paragraph($"tonight: {tonight.Name}, {Span(now, tonight)}, {Figures.Count(nights.CuesTonight, "cue")}", indent: 2);
        if (nights.Running > 0)
        {
            page.Paragraph($"{Figures.Count(nights.Running, "unit")} ran effects and {(nights.Running == 1 ? "was" : "were")} not compared while they ran", indent: 2);
        }

        foreach (string note in nights.Notes.Concat(last.Cuts).Concat(tonight.Cuts))
        {
            page.Paragraph(note, indent: 2);
        }
    }

    private static string Span(WallClock clock, CompareSide side) => side is { First: Timestamp from, Last: Timestamp to } ? clock.Span(from, to) : "no record";

    private static string Words(NightDifference difference)
    {
        string who = NightUnitsList(difference.Subjects);
        bool several = difference.Subjects.Count > 1;
        return difference.Kind switch
        {
            NightDifferenceKind.UniverseMissing => $"{who}: nobody sends {(several ? "them" : "it")} tonight (last night {difference.LastNight})",
            NightDifferenceKind.UniverseNew => $"{who}: nobody sent {(several ? "them" : "it")} last night (tonight {difference.Tonight})",
            NightDifferenceKind.SenderMissing => $"{who} is not there tonight (last night it {difference.LastNight})",
            NightDifferenceKind.SenderNew => $"{who} was not there last night (tonight it {difference.Tonight})",
            NightDifferenceKind.UnitStill => $"{who} never {(several ? "move" : "moves")} tonight (last night: {difference.LastNight})",
            NightDifferenceKind.UnitMovesNow => $"{who}: {difference.Tonight} tonight, {difference.LastNight} last night",
            NightDifferenceKind.CueMissing => $"a cue did not come (time of last night, when it {difference.LastNight}): {who}",
            NightDifferenceKind.CueExtra => $"a cue that there was not last night {difference.Tonight}: {who}",
            NightDifferenceKind.Levels => $"{who}: last night {difference.LastNight}; tonight {difference.Tonight}{(difference.Cues > 1 ? string.Create(CultureInfo.InvariantCulture, $"; over {difference.Cues} cues") : "")}",
            _ => $"{who}: last night {difference.LastNight}; tonight {difference.Tonight}",
        };
    }

    private static string NightUnitsList(IReadOnlyList<string> names)
    {
        const int Most = 6;
        return names.Count <= Most ? string.Join(", ", names) : $"{string.Join(", ", names.Take(Most))} and {names.Count - Most} more";
    }
}
