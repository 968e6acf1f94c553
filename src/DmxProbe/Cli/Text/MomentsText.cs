using System.Globalization;

using DmxProbe.Analysis.Compare.Nights;

namespace DmxProbe.Cli.Text;

/// <summary>Marks and cues of a recording, as text.</summary>
internal static class MomentsText
{
    private const int MostRows = 60;

    /// <summary>Writes them.</summary>
    public static void Write(TextPage page, string name, ReviewRun run, RecordedMoments moments, bool all, TimeZoneInfo zone)
    {
        WallClock clock = new(zone, run.First, run.Last);
        string ask = string.Join(" or ", new[] { (moments.Marks.Count, "--at mark:N"), (moments.Cues.Count, "--at cue:N") }.Where(each => each.Item1 > 0).Select(each => each.Item2));
        page.Paragraph($"{name} has {Figures.Count(moments.Marks.Count, "mark")} and {Figures.Count(moments.Cues.Count, "cue")}, {clock.Span(run.First, run.Last)}.{(ask.Length > 0 ? $" Ask with {ask}." : "")}", tone: Tone.Strong);
        if (moments.Cues.Count > 0)
        {
            page.Paragraph("Cues are counted as the wire shows them; they are not the numbers of a controller.");
        }

        if (moments.Marks.Count > 0)
        {
            page.Blank();
            page.Table(
                ["mark", "time", "says"],
                new HashSet<int> { 0 },
                moments.Marks.Take(all ? int.MaxValue : MostRows).Select((mark, index) => (IReadOnlyList<string>)[(index + 1).ToString(CultureInfo.InvariantCulture), clock.Time(mark.Time), mark.Text]));
            More(page, moments.Marks.Count, "mark", all);
        }

        if (moments.Cues.Count > 0)
        {
            page.Blank();
            page.Table(
                ["cue", "begins", "stands from", "slots moved"],
                new HashSet<int> { 0, 3 },
                moments.Cues.Take(all ? int.MaxValue : MostRows).Select(Row));
            More(page, moments.Cues.Count, "cue", all);
        }

        foreach (string note in moments.Notes)
        {
            page.Paragraph(Figures.Ended(note));
        }

        IReadOnlyList<string> Row(NightCue cue) => [cue.Number.ToString(CultureInfo.InvariantCulture), clock.Time(cue.At), clock.Time(cue.Settled), Figures.Count(cue.Slots)];
    }

    private static void More(TextPage page, int count, string what, bool all)
    {
        if (!all && count > MostRows)
        {
            page.Paragraph($"and {Figures.Count(count - MostRows, $"more {what}")} (--all shows them)", indent: 2);
        }
    }
}
