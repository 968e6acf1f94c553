using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Index;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli.Text;

/// <summary>What was looked up in a recording, as text: the answer in a sentence, then the levels.</summary>
internal static class ReviewText
{
    private const int MostChanges = 40;
    private const int MostOfUnit = 8;
    private const int MostStreams = 60;
    private static readonly Duration Soon = Duration.FromMilliseconds(250);

    /// <summary>Writes the answer.</summary>
    public static void Write(TextPage page, string name, ReviewRun run, ReviewSheet sheet, IReadOnlyList<string> notes, bool all, TimeZoneInfo zone)
    {
        Answer(page, name, run, sheet, notes, all, new WallClock(zone, run.First, run.Last));
        foreach (InputProblem problem in run.Index.Problems)
        {
            page.Paragraph(Figures.Ended($"{name} ends early: {problem}"), tone: Tone.Warning);
        }
    }

    private static void Answer(TextPage page, string name, ReviewRun run, ReviewSheet sheet, IReadOnlyList<string> notes, bool all, WallClock clock)
    {
        if (run.Universe is null)
        {
            List(page, name, run, notes, all, clock);
            return;
        }

        SenderWords senders = Senders(run, run.Universe.Value);

        string label = run.Universe.Value.Label;
        if (!run.IsAnswered)
        {
            string when = run.At is Timestamp moment ? "at " + clock.Time(moment) : $"from {clock.Time(run.From!.Value)} to {clock.Time(run.To!.Value)}";
            page.Paragraph($"Nobody sent {label} {when}, nor in the 12 s before.", tone: Tone.Fault);
            ReviewStream[] sent = [.. run.Index.Streams.Where(stream => stream.Universe == run.Universe)];
            page.Paragraph(string.Join("; ", sent.Select(stream => $"{senders[stream.Sender.Index]} sent it from {clock.Time(stream.First)} to {clock.Time(stream.Last)}")) + ".");
            return;
        }

        if (run.At is Timestamp at)
        {
            Moment(page, run, sheet, label, at, all, clock, senders);
        }
        else
        {
            Span(page, run, sheet, label, all, clock, senders);
        }
    }

    private static void List(TextPage page, string name, ReviewRun run, IReadOnlyList<string> notes, bool all, WallClock clock)
    {
        int universes = run.Index.Streams.Select(stream => stream.Universe).Distinct().Count();
        page.Paragraph($"{name} holds {Figures.Count(universes, "universe")}, {clock.Span(run.First, run.Last)}. Ask with --universe, --slot and --at.", tone: Tone.Strong);
        page.Blank();
        page.Table(
            ["universe", "type", "sender", "frames", "from", "to"],
            new HashSet<int> { 3 },
            run.Index.Streams.Take(all ? int.MaxValue : MostStreams).Select(stream => (IReadOnlyList<string>)
            [
                stream.Universe.Label, WireUniverse.Word(stream.Universe), Senders(run, stream.Universe)[stream.Sender.Index], Figures.Count(stream.Frames), clock.Time(stream.First), clock.Time(stream.Last),
            ]));
        More(page, run.Index.Streams.Count - MostStreams, all);
        foreach (string note in notes)
        {
            page.Paragraph(Figures.Ended(note));
        }
    }

    private static void Moment(TextPage page, ReviewRun run, ReviewSheet sheet, string label, Timestamp at, bool all, WallClock clock, SenderWords senders)
    {
        if (run.Slot is not null)
        {
            foreach (SlotSeries series in run.History)
            {
                SlotLevelAt since = series.Changes[^1];
                page.Paragraph(
                    since.Level < 0
                        ? $"{Slot(label, series.Slot, run, sheet)} at {clock.Time(at)}: {senders[series.Sender.Index]} did not send it."
                        : $"{Slot(label, series.Slot, run, sheet)} at {clock.Time(at)}: {since.Level} from {senders[series.Sender.Index]}, since {clock.Time(since.Time)} ({Figures.Time(Figures.Between(since.Time, at))}).",
                    tone: Tone.Strong);
            }

            return;
        }

        page.Paragraph(
            run.Levels.Count == 1
                ? $"{label} at {clock.Time(at)}, from {senders[run.Levels[0].Sender.Index]}:"
                : $"{label} at {clock.Time(at)} has {run.Levels.Count} senders:",
            tone: Tone.Strong);
        foreach (ReviewLevels levels in run.Levels)
        {
            page.Blank();
            page.Paragraph(
                $"{senders[levels.Sender.Index]}, {Figures.Count(levels.Slots.Length, "slot")}, frame of {clock.Time(levels.Time)}{(levels.Sender.Protocol == UniverseProtocol.Sacn ? $", priority {levels.Priority}" : "")}{(levels.IsEnded ? "; it had ended its stream" : "")}",
                indent: 2);
            if (sheet.UnitsOf(run.Universe!.Value) is { Count: > 0 } units)
            {
                UnitLevelsText.Write(page, levels.Slots, [.. units.Where(each => run.Unit is null || each.Unit.Unit == run.Unit)], sheet, run.Unit is not null, all);
            }
            else
            {
                Grid(page, levels.Slots);
            }
        }
    }

    private static string Slot(string label, int slot, ReviewRun run, ReviewSheet sheet)
    {
        string about = sheet.About(run.Universe!.Value, slot);
        return $"{label}, slot {slot}{(about.Length > 0 ? $" ({about})" : "")}";
    }

    // Rows of ten or twenty, as slots are counted; a row of zeros only is left out, and said.
    private static void Grid(TextPage page, byte[] slots)
    {
        int columns = page.Width >= 100 ? 20 : 10;
        int[] rows = [.. Enumerable.Range(0, (slots.Length + columns - 1) / columns).Select(row => row * columns).Where(row => slots.AsSpan(row, Math.Min(columns, slots.Length - row)).ContainsAnyExcept((byte)0))];
        if (rows.Length > 0)
        {
            page.Table(
                ["slot", .. Enumerable.Range(0, columns).Select(column => "+" + column.ToString(CultureInfo.InvariantCulture))],
                Enumerable.Range(0, columns + 1).ToHashSet(),
                rows.Select(row => (IReadOnlyList<string>)
                [
                    (row + 1).ToString(CultureInfo.InvariantCulture),
                    .. Enumerable.Range(row, columns).Select(slot => slot < slots.Length ? slots[slot].ToString(CultureInfo.InvariantCulture) : ""),
                ]));
        }

        if (rows.Length * columns < slots.Length)
        {
            page.Paragraph(rows.Length == 0 ? "all slots are 0" : "rows left out are 0", indent: 2);
        }
    }

    private static void Span(TextPage page, ReviewRun run, ReviewSheet sheet, string label, bool all, WallClock clock, SenderWords senders)
    {
        (Timestamp from, Timestamp to) = (run.From!.Value, run.To!.Value);
        // Of a unit, slots that never moved are one line at the end.
        bool isUnit = run.Unit is not null;
        foreach (SlotSeries series in run.History.Where(series => !isUnit || series.Changes.Count > 1))
        {
            SlotLevelAt[] levels = [.. series.Changes.Where(change => change.Level >= 0)];
            int changes = series.Changes.Count(change => change.Time > from);
            page.Paragraph(
                $"{Slot(label, series.Slot, run, sheet)} from {clock.Time(from)} to {clock.Time(to)}, {senders[series.Sender.Index]}: {Figures.Count(changes, "change")}{(levels.Length > 0 ? $", {levels.Min(level => level.Level)} to {levels.Max(level => level.Level)}" : "")}.",
                tone: Tone.Strong);
            (string Time, string Text)[] lines = [.. Lines(series.Changes, all, clock)];
            int most = isUnit ? MostOfUnit : MostChanges;
            foreach ((string time, string text) in lines.Take(all ? int.MaxValue : most))
            {
                page.Labelled(time, text, 26);
            }

            More(page, lines.Length - most, all);
        }

        string[] still = [.. run.History.Where(series => isUnit && series.Changes is [{ Level: >= 0 }]).Select(series => string.Create(CultureInfo.InvariantCulture, $"slot {series.Slot} at {series.Changes[0].Level}")).Distinct()];
        if (still.Length > 0)
        {
            page.Paragraph($"{run.Unit}, unchanged from {clock.Time(from)} to {clock.Time(to)}: {string.Join(", ", still)}.");
        }
    }

    // A fade is one line: steps one way, one soon after the other.
    private static IEnumerable<(string Time, string Text)> Lines(IReadOnlyList<SlotLevelAt> changes, bool all, WallClock clock)
    {
        const int FewestSteps = 3;
        for (int i = 0; i < changes.Count; i++)
        {
            int end = i;
            while (!all && i > 0 && end + 1 < changes.Count && changes[end + 1].Time - changes[end].Time <= Soon && changes[end + 1].Level >= 0 && changes[i - 1].Level >= 0
                && changes[end + 1].Level > changes[end].Level == changes[i].Level > changes[i - 1].Level)
            {
                end++;
            }

            if (end - i + 1 < FewestSteps)
            {
                yield return (clock.Time(changes[i].Time), changes[i].Level < 0 ? "not sent" : changes[i].Level.ToString(CultureInfo.InvariantCulture));
                continue;
            }

            yield return (
                clock.Time(changes[i].Time),
                string.Create(CultureInfo.InvariantCulture, $"{changes[i - 1].Level} to {changes[end].Level}, in {end - i + 1} steps until {clock.Time(changes[end].Time)}"));
            i = end;
        }
    }

    private static SenderWords Senders(ReviewRun run, UniverseId universe) =>
        new(run.Index.Streams.Where(stream => stream.Universe == universe).Select(stream => stream.Sender));

    private static void More(TextPage page, int more, bool all)
    {
        if (more > 0 && !all)
        {
            page.Paragraph($"and {Figures.Count(more)} more (--all shows them)", indent: 2);
        }
    }
}
