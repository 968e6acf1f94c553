using DmxProbe.Analysis.OverTime;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

using ScottPlot;

namespace DmxProbe.Reporting.Plots;

/// <summary>Frames per second of each sender over time, with marks where sequence numbers are missing.</summary>
public static class RatePicture
{
    private const int MostLines = 6;
    private const int Height = 300;

    /// <summary>Draws it; null when nothing was seen.</summary>
    /// <param name="show">The recording span by span.</param>
    /// <param name="clock">Writes times of day.</param>
    public static Picture? Draw(OverTimeSnapshot show, Func<Timestamp, string> clock)
    {
        ArgumentNullException.ThrowIfNull(show);
        ArgumentNullException.ThrowIfNull(clock);
        if (show.Streams.Count == 0 || show.Start is not Timestamp start)
        {
            return null;
        }

        // Those that lost the most, then those whose rate varies the most: a flat line tells little.
        List<StreamOverTime> lines =
        [
            .. show.Streams.OrderByDescending(stream => stream.Lost.Sum()).ThenByDescending(stream => Spread(stream, show)).Take(MostLines).OrderBy(stream => stream.Universe),
        ];
        Plot plot = PlotStyle.New();
        for (int line = 0; line < lines.Count; line++)
        {
            StreamOverTime stream = lines[line];
            double[] at = [.. Enumerable.Range(0, show.Bins).Select(bin => (bin + 0.5) * show.Width.TotalSeconds)];
            double[] rate = [.. Enumerable.Range(0, show.Bins).Select(bin => stream.Frames[bin] / show.Seconds(bin))];
            ScottPlot.Plottables.Scatter drawn = plot.Add.ScatterLine(at, rate, PlotStyle.Lines[line].Color);
            drawn.LinePattern = PlotStyle.Lines[line].Pattern;
            drawn.LineWidth = 1.5f;
            drawn.LegendText = Name(stream);
            int[] lossy = [.. Enumerable.Range(0, show.Bins).Where(bin => stream.Lost[bin] > 0)];
            if (lossy.Length > 0)
            {
                ScottPlot.Plottables.Scatter crosses = plot.Add.ScatterPoints(
                    lossy.Select(bin => at[bin]).ToArray(), lossy.Select(bin => rate[bin]).ToArray(), PlotStyle.Lines[line].Color);
                crosses.MarkerShape = MarkerShape.Cross;
                crosses.MarkerSize = 9;
                crosses.LegendText = "frames missing, " + ActivityPicture.Short(stream.Universe);
            }
        }

        PlotStyle.TimeAxis(plot, start, show.Width.TotalSeconds * show.Bins, clock);
        double most = lines.Max(stream => Enumerable.Range(0, show.Bins).Max(bin => stream.Frames[bin] / show.Seconds(bin)));
        plot.Axes.SetLimitsY(0, Math.Max(1, most * 1.35));
        plot.YLabel("frames per second");
        plot.ShowLegend(Alignment.UpperRight, Orientation.Vertical);
        return new Picture(
            "Rates and losses over the time covered",
            PlotStyle.Svg(plot, Height),
            PlotStyle.Width,
            Height,
            Words(lines, show),
            ["from", .. lines.SelectMany(stream => new[] { Name(stream) + ", frames per second", Name(stream) + ", frames missing" })],
            [
                .. Enumerable.Range(0, show.Bins).Select(bin => (IReadOnlyList<string>)
                [
                    clock(start + Duration.FromNanoseconds(bin * show.Width.Nanoseconds)),
                    .. lines.SelectMany(stream => new[] { PlotStyle.Cell(stream.Frames[bin] / show.Seconds(bin)), PlotStyle.Cell(stream.Lost[bin]) }),
                ]),
            ]);
    }

    private static string Name(StreamOverTime stream) => ActivityPicture.Short(stream.Universe) + " from " + Who(stream.Sender);

    /// <summary>A sender in a few words; control characters are escaped, for a picture obeys them too.</summary>
    internal static string Who(SenderSummary sender) => Printable.Text(sender.Name.Length > 0 ? sender.Name : sender.Address.Length > 0 ? sender.Address : "the port");

    private static double Spread(StreamOverTime stream, OverTimeSnapshot show)
    {
        double[] rates = [.. Enumerable.Range(0, show.Bins).Select(bin => stream.Frames[bin] / show.Seconds(bin))];
        return rates.Max() - rates.Min();
    }

    private static string Words(List<StreamOverTime> lines, OverTimeSnapshot show)
    {
        List<string> words = [$"Counted at the capture point, a value for each {Figures.Time(show.Width)}; a cross where sequence numbers are missing."];
        foreach (StreamOverTime stream in lines)
        {
            double[] rates = [.. Enumerable.Range(0, show.Bins).Select(bin => stream.Frames[bin] / show.Seconds(bin))];
            long lost = stream.Lost.Sum();
            words.Add($"{Name(stream)}: {Figures.Number(rates.Min())} to {Figures.Number(rates.Max())} frames per second, {(lost == 0 ? "none missing" : Figures.Count(lost, "frame") + " missing")}.");
        }

        if (lines.Count < show.Streams.Count)
        {
            words.Add($"Shown are {lines.Count} of {show.Streams.Count}: those that lost the most, then those that vary the most.");
        }

        return string.Join(" ", words);
    }
}
