using System.Globalization;
using System.Text.RegularExpressions;

using DmxProbe.Protocols.Records;

using ScottPlot;

namespace DmxProbe.Reporting.Plots;

/// <summary>What all pictures have in common.</summary>
internal static partial class PlotStyle
{
    /// <summary>Width of a picture, pixels.</summary>
    public const int Width = 860;

    private const int MostTicks = 7;

    /// <summary>Lines that are told apart in print and by people who see few colours: by shape of the line too.</summary>
    public static readonly (Color Color, LinePattern Pattern)[] Lines =
    [
        (Color.FromHex("#1b4f8a"), LinePattern.Solid),
        (Color.FromHex("#b45309"), LinePattern.Dashed),
        (Color.FromHex("#0f766e"), LinePattern.Dotted),
        (Color.FromHex("#7c2d6b"), LinePattern.DenselyDashed),
        (Color.FromHex("#444444"), LinePattern.Solid),
        (Color.FromHex("#a16207"), LinePattern.Dotted),
    ];

    /// <summary>An empty plot in our font.</summary>
    public static Plot New()
    {
        PlotFont.Use();
        Plot plot = new();
        plot.Font.Set(PlotFont.Name);
        plot.FigureBackground.Color = Colors.White;

        // Room for half of the last label of the horizontal axis.
        plot.Axes.Right.MinimumSize = 34;
        return plot;
    }

    /// <summary>The plot as SVG; the same plot gives the same text.</summary>
    public static string Svg(Plot plot, int height)
    {
        // The drawing library numbers its clips through the whole process: they are numbered anew in each picture.
        Dictionary<string, string> names = [];
        return Clip().Replace(Drawn(plot, height), found =>
        {
            if (!names.TryGetValue(found.Value, out string? name))
            {
                name = string.Create(CultureInfo.InvariantCulture, $"clip{names.Count}");
                names.Add(found.Value, name);
            }

            return name;
        });
    }

    // The drawing library writes the figures on its axes as the machine's culture has them.
    private static string Drawn(Plot plot, int height)
    {
        CultureInfo before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
            return plot.GetSvgXml(Width, height);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    /// <summary>Labels the horizontal axis, which counts seconds from a moment, with times of day.</summary>
    public static void TimeAxis(Plot plot, Timestamp start, double seconds, Func<Timestamp, string> clock)
    {
        double step = Step(Math.Max(seconds, 1e-3) / MostTicks);
        ScottPlot.TickGenerators.NumericManual ticks = new();

        // No label at the very end: it would be cut by the edge of the picture.
        for (double at = 0; at <= seconds * 0.97; at += step)
        {
            string text = clock(start + Duration.FromSeconds(at));
            int point = text.LastIndexOf('.');
            ticks.AddMajor(at, step >= 1 && point > 0 ? text[..point] : text);
        }

        plot.Axes.Bottom.TickGenerator = ticks;
        plot.Axes.SetLimitsX(0, Math.Max(seconds, 1e-3));
        plot.XLabel("time of day, h:min:s");
    }

    /// <summary>The key of the lines above the plot, where it covers none of it.</summary>
    public static void LegendAbove(Plot plot)
    {
        if (plot.Legend.GetItems().Length == 0)
        {
            return;
        }

        plot.Legend.Orientation = Orientation.Horizontal;
        plot.Legend.ShadowColor = Colors.Transparent;
        plot.Legend.OutlineColor = Colors.Transparent;
        plot.Legend.SymbolWidth = 28;
        plot.Legend.Margin = new PixelPadding(0);
        plot.Legend.Padding = new PixelPadding(2);
        ScottPlot.Panels.LegendPanel above = plot.ShowLegend(Edge.Top);
        above.Padding = new PixelPadding(0, 0, 4, 0);
    }

    /// <summary>A number as a cell of data.</summary>
    public static string Cell(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    [GeneratedRegex("cl_[0-9a-f]+")]
    private static partial Regex Clip();

    private static double Step(double wanted)
    {
        double[] steps = [0.001, 0.01, 0.1, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14_400, 21_600, 43_200, 86_400];
        return steps.FirstOrDefault(step => step >= wanted, Math.Ceiling(wanted / 86_400) * 86_400);
    }
}
