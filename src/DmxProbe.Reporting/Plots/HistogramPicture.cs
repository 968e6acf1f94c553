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
    public static Picture? Draw(TimingMeasurement figure, string input)
    {
        ArgumentNullException.ThrowIfNull(figure);
        // Where every packet has the same value there is nothing to see: the table says it.
        if (figure.Histogram.Count(bar => bar.Count > 0) < 2)
        {
            return null;
        }

        Plot plot = PlotStyle.New();
        double least = figure.Histogram.Min(bar => bar.From);
        double most = figure.Histogram.Max(bar => bar.To);
        double slim = Math.Max((most - least) / 60, Math.Max(Math.Abs(most), 1) * 1e-4);
        foreach (DistributionBar bar in figure.Histogram.Where(bar => bar.Count > 0))
        {
            double width = Math.Max(bar.To - bar.From, slim);
            ScottPlot.Plottables.BarPlot drawn = plot.Add.Bar((bar.From + bar.To) / 2, bar.Count);
            drawn.Bars[0].Size = width;
            drawn.Bars[0].FillColor = Color.FromHex("#1b4f8a");
            drawn.Bars[0].LineColor = Colors.White;
        }

        // A limit far away would squeeze the bars into one: then it is said in words instead.
        double span = Math.Max(most - least, slim * 10);
        Limit(plot, figure.Transmit, "send", Color.FromHex("#b45309"), LinePattern.Solid, least - (2 * span), most + (2 * span));
        Limit(plot, figure.Receive, "accept", Color.FromHex("#7c2d6b"), LinePattern.Dashed, least - (2 * span), most + (2 * span));
        plot.Axes.SetLimitsY(0, figure.Histogram.Max(bar => bar.Count) * 1.2);
        string quantity = LineTimings.Words(figure.Quantity);
        plot.XLabel($"{quantity}, {figure.Unit}");
        plot.YLabel("packets");
        plot.ShowLegend(Alignment.UpperRight, Orientation.Vertical);
        return new Picture(
            $"{char.ToUpperInvariant(quantity[0])}{quantity[1..]} of {figure.Subject}",
            PlotStyle.Svg(plot, Height),
            PlotStyle.Width,
            Height,
            Words(figure, quantity, input),
            ["from, " + figure.Unit, "to, " + figure.Unit, "count"],
            [.. figure.Histogram.Select(bar => (IReadOnlyList<string>)[PlotStyle.Cell(bar.From), PlotStyle.Cell(bar.To), PlotStyle.Cell(bar.Count)])]);
    }

    private static void Limit(Plot plot, LimitRange? limit, string what, Color color, LinePattern pattern, double lowest, double highest)
    {
        foreach (double at in new[] { limit?.Min, limit?.Max }.OfType<double>().Where(at => at >= lowest && at <= highest).Distinct())
        {
            ScottPlot.Plottables.VerticalLine line = plot.Add.VerticalLine(at, 2, color, pattern);
            line.LegendText = $"limit to {what}: {PlotStyle.Cell(at)}";
        }
    }

    private static string Words(TimingMeasurement figure, string quantity, string input) =>
        $"{input}: {quantity} from {TimingWords.Number(figure.Min, figure.Unit)} to {TimingWords.Number(figure.Max, figure.Unit)} {figure.Unit}, median {TimingWords.Number(figure.Median, figure.Unit)}, {Figures.Count(figure.Count, "value")}. "
        + $"Limit to send: {TimingWords.Limit(figure.Transmit, figure.Unit)}; a receiver must accept: {TimingWords.Limit(figure.Receive, figure.Unit)}. Verdict: {TimingWords.ShortVerdict(figure.Verdict, (figure.Transmit ?? figure.Receive) is not null)}.";
}
