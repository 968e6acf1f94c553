using System.Globalization;

using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;

namespace DmxProbe.Cli.Text;

/// <summary>Two taps of one moment, as text: a sentence for each universe behind the link, what to do next, then what it rests on.</summary>
internal static class LinkText
{
    private const int LabelWidth = 18;
    private const int MostDetailed = 3;
    private const int MostMoments = 10;

    /// <summary>Writes the answer.</summary>
    public static void Write(TextPage page, CompareRun run, bool all, TimeZoneInfo zone)
    {
        (CompareSide near, CompareSide far) = (run.Sides[0], run.Sides[1]);
        WallClock clock = new(zone, far.First, far.Last);
        CompareText.Head(page, "Two taps of one moment", run, ("before", About(zone, near)), ("behind", About(zone, far)));
        bool isTurned = run.Links.Any(link => link.IsOrderInDoubt);
        LinkComparison[] links = [.. run.Links.Where(link => !isTurned || link.IsOrderInDoubt)];
        LinkComparison[] shown = [.. links.Take(all ? int.MaxValue : CompareText.MostLines)];
        page.Paragraph(Answer(run.Links), tone: run.Links.Count == 0 || run.Links.Any(link => link.HasFaults) ? Tone.Fault : Tone.Good);
        page.Blank();
        foreach (LinkComparison link in shown.Where(link => link.Near is not null))
        {
            page.Paragraph(Sentence(link, clock), indent: 2);
        }

        string[] unexplained = [.. shown.Where(link => link.Near is null).Select(link => link.Far.Label).Distinct()];
        if (unexplained.Length > 0)
        {
            page.Paragraph($"{string.Join(", ", unexplained)}: too few of the changes that go in, or none, are there, so {(unexplained.Length == 1 ? "it carries" : "they carry")} no universe that was heard before the link.", indent: 2);
        }

        if (links.Length > shown.Length)
        {
            page.Paragraph($"and {Figures.Count(links.Length - shown.Length, "more universe")}, {Figures.Count(links.Skip(shown.Length).Count(link => link.HasFaults))} of them with something wrong (--all shows them)", indent: 2);
        }

        CompareText.Next(page, shown.Where(link => link.Action.Length > 0).Select(link => (link.Far.Label, link.Action)));
        LinkComparison[] measured = [.. shown.Where(link => link.Near is not null && !link.IsOrderInDoubt && (link.Changes > 0 || link.HasFaults))];
        int detailed = all ? int.MaxValue : measured.Any(link => link.HasFaults) ? MostDetailed : 1;
        foreach (LinkComparison link in measured.Take(detailed))
        {
            page.Blank();
            page.Heading($"{Place(link)} in figures");
            foreach ((string what, string figures) in Rows(link, all, clock))
            {
                page.Labelled(what, figures, LabelWidth);
            }
        }

        if (measured.Length > detailed)
        {
            page.Blank();
            page.Paragraph($"Figures of {Figures.Count(measured.Length - detailed, "more universe")}: --all.");
        }
    }

    private static string About(TimeZoneInfo zone, CompareSide side) => side.Tap.HasSampleClock
        ? $"{Figures.Time(Figures.Between(side.First ?? default, side.Last ?? default))} without a date"
        : CompareText.Span(new WallClock(zone, side.First, side.Last), side);

    private static string Answer(IReadOnlyList<LinkComparison> links)
    {
        int bad = links.Count(link => link.HasFaults);
        long freezes = links.Sum(link => link.FreezeCount);
        return links.Count == 0 ? "Behind the link there is no whole frame to compare."
            : links.All(link => link.Near is null) ? "Nothing that goes in comes out: were both taps of the same show at the same time, and is the first the one before the link?"
            : links.Any(link => link.IsOrderInDoubt) ? "The second input shows changes before the first, so freezes, other levels and slots that differ are not told until the order is right."
            : bad > 0 ? $"Something is wrong {(links.Count == 1 ? "" : $"on {Figures.Count(bad)} of {Figures.Count(links.Count, "universe")} ")}behind the link{(freezes > 0 ? $": {Figures.Count(freezes, "freeze")}, the longest {Figures.Time(links.Max(link => link.LongestFreeze?.Length ?? default))}" : "")}."
            : links.All(link => link.Changes == 0) ? "All levels come out as they go in; they never changed, so latency and freezes cannot be told."
            : links.Count == 1 ? "What goes in comes out."
            : $"What goes in comes out, on all {Figures.Count(links.Count)} universes.";
    }

    private static string Place(LinkComparison link) => link.NearSender is { } sender && link.Near == link.Far && SenderName(sender) is { Length: > 0 } name
        ? $"{link.Far.Label} of {name}"
        : link.Far.Label;

    private static string SenderName(SenderSummary sender) => sender.Name.Length > 0 ? $"'{sender.Name}'" : sender.Address;

    /// <summary>A link in one sentence.</summary>
    /// <param name="link">The link.</param>
    /// <param name="clock">How times are written.</param>
    /// <param name="names">The inputs before and behind it, where the sentence is to name them.</param>
    public static string Sentence(LinkComparison link, WallClock clock, (string Near, string Far)? names = null)
    {
        if (link.Near is null && names is { } inputs)
        {
            return $"{link.Far.Label} in {inputs.Far} carries no universe of {inputs.Near}: too few of its changes, or none, are there. Was it another show, another time, or a show that never changed?";
        }

        UniverseId universe = link.Near ?? link.Far;
        List<string> said = [];
        if (link.LongestFreeze is LinkFreeze longest)
        {
            said.Add($"it froze {(link.FreezeCount == 1 ? "once, for" : $"{Figures.Count(link.FreezeCount)} times, longest")} {Figures.Time(longest.Length)} (at {clock.Time(longest.From)})");
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

        if (!link.IsOrderInDoubt && link.NearSlots > link.FarSlots && link.FarSlots > 0)
        {
            said.Add($"{Figures.Count(link.FarSlots, "slot")} of {Figures.Count(link.NearSlots)} come out");
        }

        if (!link.IsSure && !link.IsOrderInDoubt)
        {
            said.Add($"{Figures.Count(link.ChangesPassed)} of its {Figures.Count(link.Changes, "change")} came out and the others did not");
        }

        if (link.IsOrderInDoubt)
        {
            said.Add($"it shows changes {Figures.Time(link.Lead)} before they go in{(names is { } given ? $", so {given.Near} and {given.Far} may be named in the wrong order, or their clocks differ: freezes, other levels and slots that differ are not told" : "")}");
        }
        else if (link.Latency is { } latency)
        {
            said.Add(!link.SameClock ? $"it is at most {Figures.Time(latency.Maximum)} later than at its fastest"
                : latency.Maximum == Protocols.Records.Duration.Zero ? "no time passes between the taps"
                : $"it is {Figures.Time(latency.Median)} behind");
        }
        else if (link.Changes == 0)
        {
            said.Add("its levels never changed, so latency and freezes cannot be told");
        }

        bool isSame = names is null && link.Far == universe && link.IsSure;
        string sender = link.NearSender is { } from && SenderName(from) is { Length: > 0 } name ? $" of {name}" : "";
        string sent = isSame ? Place(link) : $"{link.Far.Label}{(names is null ? "" : $" in {names.Value.Far}")} {(link.IsSure ? "carries" : "may carry")} {universe.Label}{sender}{(names is null ? "" : $" in {names.Value.Near}")}";
        return said.Count == 0 ? sent + "." : $"{sent}: {string.Join("; ", said)}.";
    }

    /// <summary>What the sentence rests on: what, and the figures.</summary>
    public static IReadOnlyList<(string What, string Figures)> Rows(LinkComparison link, bool all, WallClock clock)
    {
        List<(string, string)> rows = [];
        rows.Add(("latency", Latency(link)));
        if (link.IsOrderInDoubt)
        {
            return rows;
        }

        rows.Add(("rate", $"in {Figures.Rate(link.NearHz)} with {Figures.Count(link.NearSlots, "slot")}, out {Figures.Rate(link.FarHz)} with {Figures.Count(link.FarSlots, "slot")}, while running"));
        rows.Add(("changes", link.Changes == 0 ? "none" : $"{Figures.Count(link.ChangesPassed)} of {Figures.Count(link.Changes)} came out as they went in"));
        rows.Add(("missing frames", link.MissingFrames is long missing ? Figures.Count(missing) + (link.IsMissingBySequence ? ", by its sequence numbers" : "") : "not countable: the far end sends without sequence numbers and without a steady rate"));
        int most = all ? int.MaxValue : MostMoments;
        rows.Add(("freezes", link.FreezeCount == 0
            ? link.Changes == 0 ? "not to be told: levels never changed" : $"none over {Figures.Time(link.LeastFreeze)} while levels changed"
            : string.Join("; ", link.Freezes.Take(most).Select(freeze => $"{clock.Time(freeze.From)} for {Figures.Time(freeze.Length)}{(freeze.IsSilent ? " (silent)" : "")}")) + More(link.FreezeCount, Math.Min(most, link.Freezes.Count))));
        if (link.Detours.Count > 0)
        {
            rows.Add(("other levels", string.Join("; ", link.Detours.Take(most).Select(detour => $"{clock.Time(detour.From)} for {Figures.Time(detour.To - detour.From)}{(detour.Who.Length > 0 ? ", those of " + detour.Who : "")}")) + More(link.Detours.Count, most)));
        }

        if (link.DifferingSlotCount > 0)
        {
            rows.Add(("slots that differ", string.Join(", ", link.DifferingSlots.Select(slot => string.Create(CultureInfo.InvariantCulture, $"slot {slot.Value} (in {Figures.Count(slot.Count, "frame")})"))) + More(link.DifferingSlotCount, link.DifferingSlots.Count)));
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

        if (link.IsOrderInDoubt)
        {
            return $"none: the second input shows changes {Figures.Time(link.Lead)} before the first (median of {Figures.Count(latency.Count, "change")})";
        }

        string p99 = latency.Count >= IntervalStatistics.EnoughFor99 ? $"p99 {Figures.Time(latency.P99)}, " : "";
        string figures = $"least {Figures.Time(latency.Minimum)}, median {Figures.Time(latency.Median)}, {p99}most {Figures.Time(latency.Maximum)}, of {Figures.Count(latency.Count, "change")}; resolution {Figures.Time(link.Resolution)}";
        return link.SameClock
            ? figures + " (--clocks two-clocks if the taps have a clock each)"
            : figures + string.Create(CultureInfo.InvariantCulture, $"; counted from the fastest, because the taps have a clock each ({link.ClockPpm:+0;-0;0} ppm apart; --clocks one-clock if they have one)");
    }

    private static string More(long count, int shown) => count > shown ? $" and {Figures.Count(count - shown)} more" : "";
}
