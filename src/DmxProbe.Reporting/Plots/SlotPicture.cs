using DmxProbe.Analysis.OverTime;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

using ScottPlot;

namespace DmxProbe.Reporting.Plots;

/// <summary>The levels of a unit's slots over time, a strip for each slot.</summary>
public static class SlotPicture
{
    private const int StripHeight = 46;
    private const int Around = 70;
    private const double Strip = 300;

    /// <summary>Draws it; null when nobody sent the slots.</summary>
    /// <param name="title">What it is the history of.</param>
    /// <param name="slots">The slots of one sender, in order.</param>
    /// <param name="names">What each slot does, by slot; a slot that is missing is called by its number.</param>
    /// <param name="bins">The spans.</param>
    /// <param name="clock">Writes times of day.</param>
    public static Picture? Draw(string title, IReadOnlyList<SlotOverTime> slots, IReadOnlyDictionary<int, string> names, TimeBins bins, Func<Timestamp, string> clock)
    {
        ArgumentNullException.ThrowIfNull(slots);
        ArgumentNullException.ThrowIfNull(names);
        ArgumentNullException.ThrowIfNull(bins);
        ArgumentNullException.ThrowIfNull(clock);
        if (slots.Count == 0 || bins.Start is not Timestamp start)
        {
            return null;
        }

        Plot plot = PlotStyle.New();
        ScottPlot.TickGenerators.NumericManual ticks = new();
        for (int row = 0; row < slots.Count; row++)
        {
            double floor = (slots.Count - 1 - row) * Strip;
            Draw(plot, slots[row], floor, bins);
            ticks.AddMajor(floor + 127, Name(slots[row], names));
        }

        plot.Axes.Left.TickGenerator = ticks;
        plot.Axes.SetLimitsY(-20, slots.Count * Strip);
        PlotStyle.TimeAxis(plot, start, bins.Width.TotalSeconds * bins.Count, clock);
        int height = Around + (StripHeight * slots.Count);
        return new Picture(
            title,
            PlotStyle.Svg(plot, height),
            PlotStyle.Width,
            height,
            Words(slots, names, bins),
            ["from", .. slots.Select(slot => Name(slot, names) + ", lowest to highest")],
            [
                .. Enumerable.Range(0, bins.Count).Select(bin => (IReadOnlyList<string>)
                [
                    clock(start + Duration.FromNanoseconds(bin * bins.Width.Nanoseconds)),
                    .. slots.Select(slot => slot.Lowest[bin] is int low ? low == slot.Highest[bin] ? PlotStyle.Cell(low) : $"{low} to {slot.Highest[bin]}" : "not sent"),
                ]),
            ]);
    }

    private static void Draw(Plot plot, SlotOverTime slot, double floor, TimeBins bins)
    {
        List<double> at = [];
        List<double> low = [];
        List<double> high = [];
        for (int bin = 0; bin < bins.Count; bin++)
        {
            if (slot.Lowest[bin] is int lowest && slot.Highest[bin] is int highest)
            {
                at.Add((bin + 0.5) * bins.Width.TotalSeconds);
                low.Add(floor + lowest);
                high.Add(floor + Math.Max(highest, lowest + 2));
            }
        }

        if (at.Count > 1)
        {
            ScottPlot.Plottables.FillY band = plot.Add.FillY([.. at], [.. low], [.. high]);
            band.FillColor = PlotStyle.Lines[0].Color.WithAlpha(0.55);
            band.LineColor = PlotStyle.Lines[0].Color;
        }

        plot.Add.HorizontalLine(floor, 0.5f, Color.FromHex("#888888"));
    }

    private static string Name(SlotOverTime slot, IReadOnlyDictionary<int, string> names) =>
        Printable.Text(names.TryGetValue(slot.Slot, out string? name) && name.Length > 0 ? $"{slot.Slot} {name}" : $"slot {slot.Slot}");

    private static string Words(IReadOnlyList<SlotOverTime> slots, IReadOnlyDictionary<int, string> names, TimeBins bins)
    {
        IEnumerable<string> each = slots.Select(slot =>
        {
            int low = slot.Lowest.OfType<int>().Min();
            int high = slot.Highest.OfType<int>().Max();
            return low == high ? $"{Name(slot, names)}: {low} throughout." : $"{Name(slot, names)}: {low} to {high}.";
        });
        return $"Levels as {RatePicture.Who(slots[0].Sender)} sent them, 0 at the foot of each strip and 255 at its top; the band spans lowest to highest within {Figures.Time(bins.Width)}. {string.Join(" ", each)}";
    }
}
