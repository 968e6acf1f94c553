using System.Globalization;

using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Analysis.Timing;

namespace DmxProbe.Cli.Text;

/// <summary>Two taps of one moment, as text: a sentence for each universe behind the link, then what it rests on.</summary>
internal static class LinkText
{
    private const int LabelWidth = 18;
    private const int MostLinks = 10;
    private const int MostMoments = 10;

    /// <summary>Writes the answer.</summary>
    public static void Write(TextPage page, CompareRun run, bool all, TimeZoneInfo zone)
    {
        (string near, string far) = (run.Sides[0].Name, run.Sides[1].Name);
        WallClock clock = new(zone, run.Sides[1].First, run.Sides[1].Last);
        if (run.Links.Count == 0)
        {
            page.Paragraph($"{far} has no whole frame to compare.", tone: Tone.Fault);
        }

        LinkComparison[] ordered = [.. run.Links.OrderBy(link => link.HasFaults ? 0 : 1)];
        foreach (LinkComparison link in ordered.Take(all ? int.MaxValue : MostLinks))
        {
            Link(page, near, far, link, all, clock);
            page.Blank();
        }

        if (!all && ordered.Length > MostLinks)
        {
            LinkComparison[] rest = ordered[MostLinks..];
            page.Paragraph($"and {Figures.Count(rest.Length, "more universe")}, {Figures.Count(rest.Count(link => link.HasFaults))} of them with something wrong (--all shows them)");
        }

        foreach (string cut in run.Sides.SelectMany(side => side.Cuts))
        {
            page.Paragraph(cut, indent: 2);
        }
    }

    private static void Link(TextPage page, string near, string far, LinkComparison link, bool all, WallClock clock)
    {
        page.Paragraph(Sentence(near, far, link, clock), tone: link.HasFaults ? Tone.Fault : Tone.Good);
        if (link.Near is not null)
        {
            foreach ((string what, string figures) in Rows(link, all, clock))
            {
                page.Labelled(what, figures, LabelWidth);
            }
        }
    }

    /// <summary>A link in one sentence.</summary>
    public static string Sentence(string near, string far, LinkComparison link, WallClock clock)
    {
        if (link.Near is not { } universe)
        {
            return $"{link.Far.Label} in {far} carries no universe of {near}: too few of its changes, or none, are there. Was it another show, another time, or a show that never changed?";
        }

        List<string> said = [];
        if (link.LongestFreeze is LinkFreeze longest)
        {
            said.Add($"it froze {(link.FreezeCount == 1 ? "once, for" : $"{Figures.Count(link.FreezeCount)} times, longest")} {Figures.Time(longest.Length)}");
        }

        if (link.Detours.Count > 0)
        {
            LinkDetour first = link.Detours[0];
            string times = link.Detours.Count == 1 ? "" : $" ({Figures.Count(link.Detours.Count)} times in all)";
            said.Add($"at {clock.Time(first.From)} it followed {(first.Who.Length > 0 ? first.Who : "another transmitter, or levels of its own,")} for {Figures.Time(first.To - first.From)}{times}");
        }

        if (link.DifferingSlotCount > 0)
        {
            said.Add($"{Figures.Count(link.DifferingSlotCount, "slot")} came out different");
        }

        if (link.Latency is { } latency)
        {
            said.Add(link.SameClock
                ? $"it is {Figures.Time(latency.Median)} behind"
                : $"it is at most {Figures.Time(latency.Maximum)} later than at its fastest");
        }

        bool isSure = link.ChangesPassed * 2 >= link.Changes;
        if (!isSure)
        {
            said.Add($"{Figures.Count(link.ChangesPassed)} of its {Figures.Count(link.Changes, "change")} came out and the others did not (was it the same time? if so, the link leaves changes out)");
        }

        string sent = $"{link.Far.Label} in {far} {(isSure ? "carries" : "may carry")} {universe.Label}{(link.NearSender is { Name.Length: > 0 } sender ? $" of '{sender.Name}'" : "")} in {near}";
        return said.Count == 0 ? sent + "." : $"{sent}: {string.Join("; ", said)}.";
    }

    /// <summary>What the sentence rests on: what, and the figures.</summary>
    public static IReadOnlyList<(string What, string Figures)> Rows(LinkComparison link, bool all, WallClock clock)
    {
        List<(string, string)> rows = [];
        rows.Add(("latency", Latency(link)));
        rows.Add(("rate", $"in {Figures.Rate(link.NearHz)} with {Figures.Count(link.NearSlots, "slot")}, out {Figures.Rate(link.FarHz)} with {Figures.Count(link.FarSlots, "slot")}, while running"));
        rows.Add(("changes", $"{Figures.Count(link.ChangesPassed)} of {Figures.Count(link.Changes)} came out as they went in"));
        rows.Add(("missing frames", link.MissingFrames is long missing ? Figures.Count(missing) : "not countable: it sends without a steady rate"));
        int most = all ? int.MaxValue : MostMoments;
        rows.Add(("freezes", link.FreezeCount == 0
            ? $"none over {Figures.Time(link.LeastFreeze)} while levels changed"
            : string.Join("; ", link.Freezes.Take(most).Select(freeze => $"{clock.Time(freeze.From)} for {Figures.Time(freeze.Length)}{(freeze.IsSilent ? " (silent)" : "")}")) + More(link.FreezeCount, Math.Min(most, link.Freezes.Count))));
        if (link.Detours.Count > 0)
        {
            rows.Add(("other levels", string.Join("; ", link.Detours.Take(most).Select(detour => $"{clock.Time(detour.From)} for {Figures.Time(detour.To - detour.From)}{(detour.Who.Length > 0 ? ", those of " + detour.Who : "")}")) + More(link.Detours.Count, most)));
        }

        if (link.DifferingSlotCount > 0)
        {
            rows.Add(("slots that differ", string.Join(", ", link.DifferingSlots.Select(slot => string.Create(CultureInfo.InvariantCulture, $"{slot.Value} (in {Figures.Count(slot.Count, "frame")})"))) + More(link.DifferingSlotCount, link.DifferingSlots.Count)));
        }

        if (!link.IsWhole)
        {
            rows.Add(("note", "only the first part of these inputs was compared: there is more than is kept"));
        }

        return rows;
    }

    private static string Latency(LinkComparison link)
    {
        if (link.Latency is not { } latency)
        {
            return "no change came out, so it could not be measured";
        }

        string p99 = latency.Count >= IntervalStatistics.EnoughFor99 ? $"p99 {Figures.Time(latency.P99)}, " : "";
        string figures = $"least {Figures.Time(latency.Minimum)}, median {Figures.Time(latency.Median)}, {p99}most {Figures.Time(latency.Maximum)}, of {Figures.Count(latency.Count, "change")}; resolution {Figures.Time(link.Resolution)}";
        return link.SameClock
            ? figures + " (--clocks two-clocks if the taps have a clock each)"
            : figures + string.Create(CultureInfo.InvariantCulture, $"; counted from the fastest, because the taps have a clock each ({link.ClockPpm:+0;-0;0} ppm apart; --clocks one-clock if they have one)");
    }

    private static string More(long count, int shown) => count > shown ? $" and {Figures.Count(count - shown)} more" : "";
}
