using DmxProbe.Analysis.Compare;
using DmxProbe.Analysis.Compare.Links;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

using ScottPlot;

namespace DmxProbe.Reporting.Plots;

/// <summary>Two taps of one moment side by side: rates before and behind the link with its freezes, and how late each change came out.</summary>
public static class LinkPicture
{
    private const int MostBins = 240;
    private const int Height = 300;
    private static readonly Duration LeastBin = Duration.FromSeconds(0.5);

    /// <summary>Draws them: rates, then latencies; without what there is nothing of.</summary>
    /// <param name="found">What was found.</param>
    /// <param name="near">The tap before the link.</param>
    /// <param name="far">The tap behind it.</param>
    /// <param name="names">What both are called.</param>
    /// <param name="clock">Writes times of day, of the near tap's clock.</param>
    public static IReadOnlyList<Picture> Draw(LinkComparison found, TapRecording near, TapRecording far, (string Near, string Far) names, Func<Timestamp, string> clock)
    {
        ArgumentNullException.ThrowIfNull(found);
        ArgumentNullException.ThrowIfNull(near);
        ArgumentNullException.ThrowIfNull(far);
        ArgumentNullException.ThrowIfNull(clock);
        if (found.Near is not { } universe)
        {
            return [];
        }

        // All on the clock of the near tap, which is that of the rest of the page.
        Timestamp[] sent = [.. near.Streams.Where(stream => stream.Universe == universe && (found.NearSender is null || stream.Sender.Index == found.NearSender.Index)).SelectMany(stream => stream.Frames).Select(frame => frame.Time).Order()];
        Timestamp[] came = [.. far.Streams.Where(stream => stream.Universe == found.Far && stream.Sender.Index == found.FarSender.Index).SelectMany(stream => stream.Frames).Select(frame => frame.Time - found.Offset).Order()];
        if (sent.Length == 0 || came.Length == 0)
        {
            return [];
        }

        Timestamp start = sent[0] < came[0] ? sent[0] : came[0];
        Timestamp end = sent[^1] > came[^1] ? sent[^1] : came[^1];
        string title = $"{universe.Label} in {names.Near} and {found.Far.Label} in {names.Far}";
        Picture rates = Rates(found, sent, came, start, end, title, names, clock);
        return found.Passages.Count == 0 ? [rates] : [rates, Latencies(found, start, end, title, clock)];
    }

    private static Picture Rates(
        LinkComparison found, Timestamp[] sent, Timestamp[] came, Timestamp start, Timestamp end, string title, (string Near, string Far) names, Func<Timestamp, string> clock)
    {
        long width = Math.Max(LeastBin.Nanoseconds, ((end - start).Nanoseconds / MostBins) + 1);
        int bins = (int)((end - start).Nanoseconds / width) + 1;
        int[] before = Count(sent, start, width, bins);
        int[] behind = Count(came, start, width, bins);
        double seconds = width / 1e9;
        Plot plot = PlotStyle.New();
        double[] at = [.. Enumerable.Range(0, bins).Select(bin => (bin + 0.5) * seconds)];
        Freezes(plot, found, start);
        Line(plot, at, before, seconds, 0, "in: " + Printable.Text(names.Near));
        Line(plot, at, behind, seconds, 1, "out: " + Printable.Text(names.Far));
        PlotStyle.TimeAxis(plot, start, Math.Max((end - start).TotalSeconds, seconds), clock);
        plot.Axes.SetLimitsY(0, Math.Max(1, before.Concat(behind).Max() / seconds * 1.15));
        plot.YLabel("frames per second");
        PlotStyle.LegendAbove(plot);
        string missing = found.MissingFrames is long count ? $"{Figures.Count(count, "frame")} missing behind the link, {(found.IsMissingBySequence ? "by its sequence numbers" : "from gaps in its steady rate")}" : "missing frames cannot be counted: it sends without sequence numbers and without a steady rate";
        string frozen = found.FreezeCount == 0 ? $"No freeze over {Figures.Time(found.LeastFreeze)}."
            : $"Shaded: {Figures.Count(found.FreezeCount, "freeze")}, the longest {Figures.Time(found.LongestFreeze!.Value.Length)}.";
        return new Picture(
            "Two taps: frames of " + title,
            PlotStyle.Svg(plot, Height),
            PlotStyle.Width,
            Height,
            $"In: {Figures.Count(sent.Length, "frame")}; out: {Figures.Count(came.Length, "frame")}; a value for each {Figures.Time(Duration.FromNanoseconds(width))}, by the clock of {names.Near}. {Figures.Capital(missing)}. {frozen}",
            ["from", "in, frames", "out, frames", "frozen"],
            [
                .. Enumerable.Range(0, bins).Select(bin => (IReadOnlyList<string>)
                [
                    clock(start + Duration.FromNanoseconds(bin * width)),
                    PlotStyle.Cell(before[bin]),
                    PlotStyle.Cell(behind[bin]),
                    found.Freezes.Any(freeze => Overlaps(freeze, found.Offset, start + Duration.FromNanoseconds(bin * width), width)) ? "yes" : "no",
                ]),
            ]);
    }

    private static Picture Latencies(LinkComparison found, Timestamp start, Timestamp end, string title, Func<Timestamp, string> clock)
    {
        Plot plot = PlotStyle.New();
        double[] at = [.. found.Passages.Select(passage => (passage.Time - found.Offset - start).TotalSeconds)];
        double[] late = [.. found.Passages.Select(passage => passage.Latency.TotalMilliseconds)];
        ScottPlot.Plottables.Scatter points = plot.Add.ScatterPoints(at, late, PlotStyle.Lines[0].Color);
        points.MarkerSize = 5;
        points.LegendText = "a change that came out";
        Freezes(plot, found, start);
        PlotStyle.TimeAxis(plot, start, Math.Max((end - start).TotalSeconds, 1e-3), clock);
        plot.Axes.SetLimitsY(0, Math.Max(1, late.Max() * 1.15));
        plot.YLabel("later, ms");
        PlotStyle.LegendAbove(plot);
        string from = found.SameClock ? "Counted from when the change went in." : "Counted from the fastest change, for the taps have a clock each.";
        return new Picture(
            "Two taps: latency of " + title,
            PlotStyle.Svg(plot, Height),
            PlotStyle.Width,
            Height,
            $"{Figures.Count(found.Latency!.Count, "change")}: least {Figures.Time(found.Latency.Minimum)}, median {Figures.Time(found.Latency.Median)}, most {Figures.Time(found.Latency.Maximum)}; known to {Figures.Time(found.Resolution)}. {from} {Figures.Count(found.ChangesPassed)} of {Figures.Count(found.Changes, "change")} came out as they went in.",
            ["came out at", "later, ms"],
            [.. found.Passages.Select(passage => (IReadOnlyList<string>)[clock(passage.Time - found.Offset), PlotStyle.Cell(passage.Latency.TotalMilliseconds)])]);
    }

    private static int[] Count(Timestamp[] times, Timestamp start, long width, int bins)
    {
        int[] counts = new int[bins];
        foreach (Timestamp time in times)
        {
            counts[(time - start).Nanoseconds / width]++;
        }

        return counts;
    }

    private static void Line(Plot plot, double[] at, int[] frames, double seconds, int style, string name)
    {
        ScottPlot.Plottables.Scatter drawn = plot.Add.ScatterLine(at, frames.Select(count => count / seconds).ToArray(), PlotStyle.Lines[style].Color);
        drawn.LinePattern = PlotStyle.Lines[style].Pattern;
        drawn.LineWidth = 1.5f;
        drawn.LegendText = name;
    }

    // Before any dashed line and with solid edges: the library fills the next span with the pen of the last line, and its SVG
    // part cannot fill with dashes and says so on the terminal, past this program.
    private static void Freezes(Plot plot, LinkComparison found, Timestamp start)
    {
        string legend = "frozen";
        foreach (LinkFreeze freeze in found.Freezes)
        {
            ScottPlot.Plottables.HorizontalSpan span = plot.Add.HorizontalSpan((freeze.From - found.Offset - start).TotalSeconds, (freeze.To - found.Offset - start).TotalSeconds);
            span.FillColor = Color.FromHex("#9b1c1c").WithAlpha(0.25);
            span.LineColor = Color.FromHex("#9b1c1c");
            span.LineStyle.Pattern = LinePattern.Solid;
            span.LegendText = legend;
            legend = "";
        }
    }

    private static bool Overlaps(LinkFreeze freeze, Duration offset, Timestamp from, long width) =>
        freeze.From - offset < from + Duration.FromNanoseconds(width) && freeze.To - offset > from;
}
