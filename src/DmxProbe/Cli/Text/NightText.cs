using System.Globalization;

using DmxProbe.Analysis.Compare.Nights;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Text;

/// <summary>Tonight against last night, as text: ten lines, what matters most first, and what to do next.</summary>
internal static class NightText
{
    private const int MostSlots = 6;
    private const int MostPairs = 3;

    /// <summary>Writes the answer.</summary>
    public static void Write(TextPage page, CompareRun run, NightComparison nights, bool all, TimeZoneInfo zone)
    {
        (CompareSide last, CompareSide tonight) = (run.Sides[0], run.Sides[1]);
        WallClock now = new(zone, tonight.First, tonight.Last);
        WallClock before = new(zone, last.First, last.Last);
        CompareText.Head(
            page,
            "Two nights",
            run,
            ("last night", $"{CompareText.Span(before, last)}, {Figures.Count(nights.CuesLastNight, "cue")}"),
            ("tonight", $"{CompareText.Span(now, tonight)}, {Figures.Count(nights.CuesTonight, "cue")}"));
        int count = nights.Differences.Count;
        page.Paragraph(Answer(nights), tone: count > 0 ? Tone.Fault : nights.IsCompared ? Tone.Good : Tone.Warning);
        if (count > 0)
        {
            page.Blank();
        }

        NightDifference[] shown = [.. nights.Differences.Take(all ? int.MaxValue : CompareText.MostLines)];
        foreach (NightDifference difference in shown)
        {
            string when = difference.At is Timestamp at ? now.Time(at) : difference.AtLastNight is Timestamp then ? before.Time(then) : "whole night";
            page.Labelled(when, Words(difference), Math.Max(14, when.Length + 2));
        }

        if (count > shown.Length)
        {
            page.Paragraph($"and {Figures.Count(count - shown.Length)} more (--all shows them; --json has 20)", indent: 2);
        }

        CompareText.Next(page, shown.Select(difference => (List(difference.Subjects, 2), difference.Action)));
        string[] notes =
        [
            .. nights.Running > 0
                ? [$"{Figures.Count(nights.Running, "unit")} ran effects and {(nights.Running == 1 ? "was" : "were")} not compared while {(nights.Running == 1 ? "it" : "they")} ran"]
                : (string[])[],
            .. nights.CuesInBoth > 0 ? nights.Notes : [], // without a cue in both the answer says it
        ];
        if (notes.Length > 0)
        {
            page.Blank();
            page.Heading("What was not compared");
            foreach (string note in notes)
            {
                page.Paragraph(note, indent: 2);
            }
        }
    }

    private static string Answer(NightComparison nights)
    {
        int count = nights.Differences.Count;
        string compared = nights.CuesInBoth > 0
            ? $"{Figures.Count(nights.CuesInBoth, "cue")} found in both, {Figures.Count(nights.LooksCompared, "look")} compared"
            : "levels never change in either, and the one look that stands was compared";
        return nights.IsCompared
            ? count == 0
                ? $"Tonight is as last night: {compared}."
                : $"Tonight differs from last night in {Figures.Count(count, "thing")}; {compared}."
            : $"No cue of last night was found tonight, so no levels were compared: is it the same show, and the same part of it?{(count == 0 ? " Universes, senders and figures are the same." : $" {Figures.Count(count, "difference")} of universes, senders and figures:")}";
    }

    private static string Words(NightDifference difference)
    {
        string who = List(difference.Subjects, 6);
        bool several = difference.Subjects.Count > 1 || who.Contains(" to ", StringComparison.Ordinal);
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
            NightDifferenceKind.Levels => $"{who}: {Levels(difference)}{(difference.Cues > 1 ? string.Create(CultureInfo.InvariantCulture, $"; over {difference.Cues} cues") : "")}",
            _ => $"{who}: {difference.LastNight} last night, {difference.Tonight} tonight",
        };
    }

    // Slots that went the same way together: "slots 78, 90, 102 at 23 last night, 56 tonight".
    private static string Levels(NightDifference difference)
    {
        IReadOnlyList<NightSlotDifference> slots = difference.Slots;
        IGrouping<(byte LastNight, byte Tonight), NightSlotDifference>[] pairs = [.. slots.GroupBy(slot => (slot.LastNight, slot.Tonight))];
        bool isNamed = slots.Count == 1 && difference.Subjects[0].EndsWith(string.Create(CultureInfo.InvariantCulture, $" slot {slots[0].Slot}"), StringComparison.Ordinal);
        IEnumerable<string> told = pairs.Take(MostPairs).Select(pair =>
        {
            int[] numbers = [.. pair.Select(slot => slot.Slot).Distinct().Order()];
            string which = isNamed ? "" : $"{(numbers.Length == 1 ? "slot" : "slots")} {Figures.Ranges(numbers, MostSlots)} ";
            return string.Create(CultureInfo.InvariantCulture, $"{which}at {pair.Key.LastNight} last night, {pair.Key.Tonight} tonight");
        });
        int rest = pairs.Skip(MostPairs).Sum(pair => pair.Count());
        return string.Join("; ", told) + (rest > 0 ? $"; and {Figures.Count(rest, "more slot")}" : "");
    }

    private static string List(IReadOnlyList<string> names, int most) =>
        names.Count <= most ? string.Join(", ", names) : $"{string.Join(", ", names.Take(most))} and {names.Count - most} more";
}
