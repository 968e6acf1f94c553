using System.Globalization;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.OverTime;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

using ScottPlot;

namespace DmxProbe.Reporting.Plots;

/// <summary>Which universe changed when: a row for each universe, darker where more slots changed.</summary>
public static class ActivityPicture
{
    private const int MostRows = 48;
    private const int RowHeight = 18;
    private const int Around = 110;
    private const int PointsAcross = 1440;
    private const int PointsDown = 12;

    /// <summary>Draws it; null when nothing was seen.</summary>
    /// <param name="show">The recording span by span.</param>
    /// <param name="clock">Writes times of day.</param>
    public static Picture? Draw(OverTimeSnapshot show, Func<Timestamp, string> clock)
    {
        ArgumentNullException.ThrowIfNull(show);
        ArgumentNullException.ThrowIfNull(clock);
        List<(UniverseId Universe, double[] PerSecond, bool[] Sent)> all =
        [
            .. show.Streams.GroupBy(stream => stream.Universe).Select(group => (
                group.Key,
                Enumerable.Range(0, show.Bins).Select(bin => group.Sum(stream => stream.ChangedSlots[bin]) / show.Seconds(bin)).ToArray(),
                Sent([.. group], show))),
        ];
        if (all.Count == 0 || show.Start is not Timestamp start)
        {
            return null;
        }

        List<(UniverseId Universe, double[] PerSecond, bool[] Sent)> rows =
            [.. all.OrderByDescending(row => row.PerSecond.Sum()).Take(MostRows).OrderBy(row => row.Universe)];
        Plot plot = PlotStyle.New();

        // A browser smooths a picture that it enlarges: each cell is many points, so that its edges stay sharp.
        int across = Math.Max(1, PointsAcross / show.Bins);
        double[,] cells = new double[rows.Count * PointsDown, show.Bins * across];
        for (int y = 0; y < cells.GetLength(0); y++)
        {
            for (int x = 0; x < cells.GetLength(1); x++)
            {
                // A rest is light, not sent is empty: the square root lets single faders be seen beside chases.
                (int row, int bin) = (y / PointsDown, x / across);
                cells[y, x] = rows[row].Sent[bin] ? Math.Sqrt(rows[row].PerSecond[bin]) : double.NaN;
            }
        }

        double seconds = show.Width.TotalSeconds * show.Bins;
        ScottPlot.Plottables.Heatmap map = plot.Add.Heatmap(cells);
        map.Colormap = new ScottPlot.Colormaps.Custom([Color.FromHex("#dde7f3"), Color.FromHex("#1b4f8a"), Color.FromHex("#0b1f3a")]);
        map.Extent = new CoordinateRect(0, seconds, -0.5, rows.Count - 0.5);
        map.FlipVertically = true;
        map.NaNCellColor = Colors.White;
        map.Smooth = false;
        ScottPlot.TickGenerators.NumericManual names = new();
        for (int row = 0; row < rows.Count; row++)
        {
            names.AddMajor(row, Short(rows[row].Universe));
        }

        plot.Axes.Left.TickGenerator = names;
        plot.Axes.SetLimitsY(rows.Count - 0.5, -0.5);
        PlotStyle.TimeAxis(plot, start, seconds, clock);
        plot.HideGrid();
        int height = Around + (RowHeight * Math.Max(rows.Count, 3));
        return new Picture(
            "Universes over the time covered",
            PlotStyle.Svg(plot, height),
            PlotStyle.Width,
            height,
            Words(rows, show, all.Count, start, clock),
            ["from", .. rows.Select(row => row.Universe.Label + ", slot changes per second")],
            [
                .. Enumerable.Range(0, show.Bins).Select(bin => (IReadOnlyList<string>)
                [
                    clock(start + Duration.FromNanoseconds(bin * show.Width.Nanoseconds)),
                    .. rows.Select(row => row.Sent[bin] ? PlotStyle.Cell(row.PerSecond[bin]) : "not sent"),
                ]),
            ]);
    }

    /// <summary>A label short enough for an axis.</summary>
    internal static string Short(UniverseId universe)
    {
        int end = universe.Label.IndexOf(" = ", StringComparison.Ordinal);
        return end < 0 ? universe.Label : universe.Label[..end];
    }

    // A keep-alive may come as rarely as the protocol's time-out allows: only longer silence is "not sent".
    private static bool[] Sent(StreamOverTime[] streams, OverTimeSnapshot show)
    {
        int holds = Math.Max(1, (int)Math.Ceiling(ProtocolTimes.LossOf(streams[0].Universe.Protocol).TotalSeconds / show.Width.TotalSeconds));
        bool[] sent = new bool[show.Bins];
        int last = int.MinValue / 2;
        for (int bin = 0; bin < show.Bins; bin++)
        {
            last = Array.Exists(streams, stream => stream.Frames[bin] > 0) ? bin : last;
            sent[bin] = bin - last < holds;
        }

        return sent;
    }

    private static string Words(
        List<(UniverseId Universe, double[] PerSecond, bool[] Sent)> rows, OverTimeSnapshot show, int all, Timestamp start, Func<Timestamp, string> clock)
    {
        List<string> words =
        [
            $"A row for each universe, a column for each {Figures.Time(show.Width)}; the darker, the more slots changed; white: nothing was sent for longer than the protocol's time-out.",
        ];
        foreach ((UniverseId universe, double[] perSecond, bool[] sent) in rows.Take(12))
        {
            int busiest = Array.IndexOf(perSecond, perSecond.Max());
            int silent = sent.Count(each => !each);
            words.Add(perSecond.Max() <= 0
                ? $"{universe.Label} never changed."
                : string.Create(CultureInfo.InvariantCulture, $"{universe.Label} changed most at {clock(start + Duration.FromNanoseconds(busiest * show.Width.Nanoseconds))} ({Figures.Number(perSecond[busiest])} slot changes per second){(silent > 0 ? $", and was not sent in {silent} of {sent.Length} columns" : "")}."));
        }

        if (rows.Count < all)
        {
            words.Add($"Shown are the {rows.Count} busiest of {all} universes.");
        }

        return string.Join(" ", words);
    }
}
