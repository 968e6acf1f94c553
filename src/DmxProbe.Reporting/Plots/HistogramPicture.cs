using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Timing.Line;
using DmxProbe.Reporting.Text;

using ScottPlot;

namespace DmxProbe.Reporting.Plots;

/// <summary>How often each value of a timing figure came, with the limits it was held against.</summary>
public static class HistogramPicture
{
    private const int Height = 260;

    /// <summary>Draws it; null where the figure has no distribution.</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="input">The input it is from.</param>
    /// <param name="always">Draws a single value too, to show it beside its limits.</param>
    public static Picture? Draw(TimingMeasurement figure, string input, bool always = false)
    {
        ArgumentNullException.ThrowIfNull(figure);

        // Where every packet has the same value and nobody asks for it there is nothing to see: the table says it.
        if (figure.Histogram.Count(bar => bar.Count > 0) < (always ? 1 : 2))
        {
            return null;
        }

        Plot plot = PlotStyle.New();
        double least = figure.Histogram.Min(bar => bar.From);
        double most = figure.Histogram.Max(bar => bar.To);
        double[] limits = [.. new[] { figure.Transmit?.Min, figure.Transmit?.Max, figure.Receive?.Min, figure.Receive?.Max }.OfType<double>().Where(at => IsNear(at, least, most))];
        double from = Math.Min(least, limits.DefaultIfEmpty(least).Min());
        double to = Math.Max(most, limits.DefaultIfEmpty(most).Max());

        // No bar is drawn finer than the figure is known.
        double slim = Math.Max((to - from) / 80, figure.Resolution is double step and > 0 ? step : Math.Max(Math.Abs(most), 1) * 1e-3);
        foreach (DistributionBar bar in figure.Histogram.Where(bar => bar.Count > 0))
        {
            ScottPlot.Plottables.BarPlot drawn = plot.Add.Bar((bar.From + bar.To) / 2, bar.Count);
            drawn.Bars[0].Size = Math.Max(bar.To - bar.From, slim);
            drawn.Bars[0].FillColor = Color.FromHex("#1b4f8a");
            drawn.Bars[0].LineColor = Colors.White;
        }

        Limit(plot, figure.Transmit, "to send", Color.FromHex("#b45309"), LinePattern.Solid, figure.Unit, least, most);
        Limit(plot, figure.Receive, "a receiver must accept", Color.FromHex("#7c2d6b"), LinePattern.Dashed, figure.Unit, least, most);
        double margin = Math.Max((to - from) * 0.06, slim * 3);
        plot.Axes.SetLimitsX(from - margin, to + margin);

        plot.Axes.SetLimitsY(0, figure.Histogram.Max(bar => bar.Count) * 1.1);
        string quantity = figure.Quantity == "silence" ? "time from frame to frame" : LineTimings.Words(figure.Quantity);
        plot.XLabel($"{quantity}, {figure.Unit}");
        plot.YLabel(figure.Protocol == UniverseProtocol.Line ? "packets" : "frames");
        PlotStyle.LegendAbove(plot);
        return new Picture(
            $"{Figures.Capital(quantity)} of {figure.Subject}",
            PlotStyle.Svg(plot, Height),
            PlotStyle.Width,
            Height,
            Words(figure, quantity, input),
            ["from, " + figure.Unit, "to, " + figure.Unit, "count"],
            [.. figure.Histogram.Select(bar => (IReadOnlyList<string>)[PlotStyle.Cell(bar.From), PlotStyle.Cell(bar.To), PlotStyle.Cell(bar.Count)])]);
    }

    // A limit far away would squeeze the bars into one: then it is said in words instead.
    private static bool IsNear(double limit, double least, double most) =>
        limit >= least - Math.Max(Math.Abs(least) * 0.75, (most - least) * 2) && limit <= most + Math.Max(Math.Abs(most) * 3, (most - least) * 2);

    private static void Limit(Plot plot, LimitRange? limit, string what, Color color, LinePattern pattern, string unit, double least, double most)
    {
        foreach ((double? at, string side) in new[] { (limit?.Min, "least"), (limit?.Max, "most") })
        {
            if (at is double place && IsNear(place, least, most))
            {
                ScottPlot.Plottables.VerticalLine line = plot.Add.VerticalLine(place, 2, color, pattern);
                line.LegendText = $"{side} {what}: {PlotStyle.Cell(place)} {unit}";
            }
        }
    }

    private static string Words(TimingMeasurement figure, string quantity, string input)
    {
        string unit = figure.Unit;
        List<string> words =
        [
            figure.Min == figure.Max
                ? $"{input}: {quantity} {TimingWords.Number(figure.Max, unit)} {unit} in {Figures.Count(figure.Count, "value")}, all alike."
                : $"{input}: {quantity} from {TimingWords.Number(figure.Min, unit)} to {TimingWords.Number(figure.Max, unit)} {unit}, median {TimingWords.Number(figure.Median, unit)}, {Figures.Count(figure.Count, "value")}.",
        ];
        if (figure.Transmit is not null)
        {
            words.Add($"To send: {TimingWords.LimitInWords(figure.Transmit, unit)}.");
        }

        if (figure.Receive is not null)
        {
            words.Add($"A receiver must accept: {TimingWords.LimitInWords(figure.Receive, unit)}.");
        }

        words.Add((figure.Transmit ?? figure.Receive) is null
            ? Figures.Ended(figure.Note.Length > 0 ? "No limit of its own: " + figure.Note : "No limit")
            : $"Verdict: {TimingWords.ShortVerdict(figure.Verdict, limited: true)}.");
        return string.Join(" ", words);
    }
}
