using System.Globalization;

using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Timing;

namespace DmxProbe.Cli.Text;

/// <summary>Two taps compared, as text: the answer in a sentence, then what it rests on.</summary>
internal static class TapText
{
    private const int LabelWidth = 18;

    /// <summary>Writes what was found for each pair; nothing where there is none.</summary>
    public static void Write(TextPage page, IReadOnlyList<TimedInput> inputs, IReadOnlyList<TapPair> pairs)
    {
        foreach (TapPair pair in pairs)
        {
            foreach (GatewayComparison found in pair.Comparison.Gateways)
            {
                Gateway(page, inputs[pair.Near].Input, inputs[pair.Far].Input, found);
            }

            foreach (SegmentComparison found in pair.Comparison.Segments.Where(each => each.IsAligned))
            {
                Segment(page, inputs[pair.Near].Input, inputs[pair.Far].Input, found);
            }
        }
    }

    private static void Gateway(TextPage page, string network, string line, GatewayComparison found)
    {
        if (found.Universe is not { } universe)
        {
            page.Paragraph($"{found.Line.Label} in {line} carries no universe of {network}: too few of its changes, or none, are there. Was it another show, another time, or a show that never changed?");
            page.Blank();
            return;
        }

        string latency = found.Latency is not { } each ? ""
            : found.SameClock ? $", {Ms(each.Median)} after the packet (median of {Figures.Count(each.Count, "change")}{(HasP99(each) ? $"; p99 {Ms(each.P99)}" : $"; most {Ms(each.Maximum)}")})"
            : HasP99(each) ? $", up to {Ms(each.P99)} later than at its fastest (p99)"
            : $", up to {Ms(each.Maximum)} later than at its fastest (most of {Figures.Count(each.Count, "change")})";
        bool isSure = found.ChangesPassed * 2 >= found.Changes;
        page.Paragraph(
            isSure
                ? $"{found.Line.Label} in {line} carries {universe.Label} of {network}{latency}."
                : $"{found.Line.Label} in {line} may carry {universe.Label} of {network}: {Figures.Count(found.ChangesPassed)} of its {Figures.Count(found.Changes, "change")} {(found.ChangesPassed == 1 ? "is" : "are")} on the line and the others are not. Were both recorded at the same time? If so, the gateway leaves changes out, or another sender is merged in.",
            tone: Tone.Strong);
        Row(page, "latency", Latency(found));
        Row(page, "changes", $"{Figures.Count(found.ChangesPassed)} of {Figures.Count(found.Changes)} changes reached the line as they were sent; the network sends at {Figures.Rate(found.NetworkHz)}, the line at {Figures.Rate(found.LineHz)}");
        Row(page, "merge", Merge(found));
        foreach (LossObservation loss in found.Losses)
        {
            Row(page, "after loss", Loss(loss));
        }

        if (found.Losses.Count == 0)
        {
            Row(page, "after loss", "not seen: silence every sender of the universe for 60 s (people clear of moving units) while both taps listen");
        }

        Row(page, "universe", found.RunnerUp is { } other
            ? string.Create(CultureInfo.InvariantCulture, $"its levels at that time are {100 * (1 - found.Fits[0].MismatchShare):0.0} % of the line's frames; next best {other.Label} with {100 * found.RunnerUpShare:0.0} %")
            : string.Create(CultureInfo.InvariantCulture, $"its levels at that time are {100 * (1 - found.Fits[0].MismatchShare):0.0} % of the line's frames; no other universe fits any"));
        if (!found.IsWhole)
        {
            Row(page, "note", "only the first part of these inputs was compared: there is more than is kept");
        }

        page.Blank();
    }

    private static string Latency(GatewayComparison found)
    {
        if (found.Latency is not { } latency)
        {
            return "no change of the levels reached the line, so it could not be measured";
        }

        string figures = $"least {Ms(latency.Minimum)}, median {Ms(latency.Median)}, {(HasP99(latency) ? $"p99 {Ms(latency.P99)}, " : "")}most {Ms(latency.Maximum)}, of {Figures.Count(latency.Count, "change")}; resolution {Ms(found.Resolution)}";
        return found.SameClock
            ? figures + "; from a packet to the first line packet that carries it (--taps two-clocks if the taps have a clock each)"
            : figures + string.Create(CultureInfo.InvariantCulture, $"; counted from the fastest, because the taps have a clock each ({found.ClockPpm:+0;-0;0} ppm apart; --taps one-clock if they have one)");
    }

    private static bool HasP99(IntervalStatistics latency) => latency.Count >= IntervalStatistics.EnoughFor99;

    private static string Merge(GatewayComparison found)
    {
        if (found.Senders < 2)
        {
            return "one sender only, so no rule can be told";
        }

        RuleFit best = found.Fits[0];
        string fit = $"{Figures.Count(best.Mismatched)} of {Figures.Count(best.Frames)} line frames not explained ({Figures.Count(best.MismatchedSlots, "slot")})";
        string rules = string.Join("; or ", found.BestRules.Select(Words));
        RuleFit? next = found.Fits.FirstOrDefault(each => !found.BestRules.Contains(each.Rule));
        string other = next is null ? "" : string.Create(CultureInfo.InvariantCulture, $"; next: {Words(next.Rule)}, {100 * next.MismatchShare:0.0} % not explained, {100 * next.UnseenShare:0} % of its changes not seen");
        return $"{rules}{(found.BestRules.Count > 1 ? " (nothing here tells them apart)" : "")}: {fit}{other}";
    }

    private static string Loss(LossObservation loss) => loss.Outcome switch
    {
        AfterLoss.GoesDark => $"all slots go to 0 {Seconds(loss)} after the last packet",
        AfterLoss.StopsSending => $"the line stops {Seconds(loss)} after the last packet",
        AfterLoss.GoesElsewhere => $"other levels come {Seconds(loss)} after the last packet: a stored look, or a sender that the network tap does not see",
        _ => $"the last levels are held as long as it was watched ({Seconds(loss)})",
    };

    private static string Words(MergeRule rule) => rule switch
    {
        MergeRule.PriorityHighestValue => "highest priority, then the highest value of each slot",
        MergeRule.PriorityLatestPacket => "highest priority, then whichever sent last",
        MergeRule.HighestValue => "highest value of each slot (HTP), priority ignored",
        MergeRule.LatestChange => "latest change of each slot (LTP), priority ignored",
        MergeRule.LatestPacket => "whichever sent last, priority ignored: no merge",
        _ => "the sender that was there first",
    };

    private static void Segment(TextPage page, string start, string end, SegmentComparison found)
    {
        long bad = found.Missing + found.DamagedAtEnd + found.Different;
        string what = $"{found.Start.Label} in {start} is the start, {found.End.Label} in {end} the far end: ";
        page.Paragraph(
            bad == 0
                ? $"{what}all {Figures.Count(found.Packets, "packet")} that were whole at the start are whole at the far end."
                : $"{what}{Figures.Count(bad)} of {Figures.Count(found.Packets, "packet")} are whole at the start and not at the far end. Look at what lies between: cable, connectors, termination, splitters.",
            tone: bad == 0 ? Tone.Strong : Tone.Fault);
        Row(page, "on the way", $"{Figures.Count(found.Missing)} missing, {Figures.Count(found.DamagedAtEnd)} with framing errors, {Figures.Count(found.Different)} with other slots");
        Row(page, "at the start", $"{Figures.Count(found.DamagedAtStart)} damaged already");
        if (found.DifferingSlots.Count > 0)
        {
            Row(page, "slots that differ", string.Join(", ", found.DifferingSlots.Select(each => $"slot {each.Value} (in {Figures.Count(each.Count, "packet")})")));
        }

        page.Blank();
    }

    private static void Row(TextPage page, string label, string text) => page.Labelled(label, text, LabelWidth);

    private static string Ms(Protocols.Records.Duration duration) => duration.Nanoseconds is > 0 and < 100_000
        ? Figures.Number(duration.TotalMicroseconds) + " us"
        : Figures.Number(duration.TotalMilliseconds) + " ms";

    private static string Seconds(LossObservation loss) => Figures.Number(loss.After.TotalSeconds) + " s";
}
