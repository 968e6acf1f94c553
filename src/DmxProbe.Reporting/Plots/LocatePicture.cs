using System.Globalization;

using DmxProbe.Analysis.Locate;
using DmxProbe.Fixtures.Light;
using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

using ScottPlot;

namespace DmxProbe.Reporting.Plots;

/// <summary>The evidence of a locate claim: the measured light, what the best hypothesis predicts, and the runner-up.</summary>
public static class LocatePicture
{
    private const int Height = 420;
    private const int MostPoints = 900;

    /// <summary>Draws it; null without a trace or a best hypothesis.</summary>
    /// <param name="result">What the inference found.</param>
    /// <param name="about">What it was told.</param>
    /// <param name="clock">Writes times of day.</param>
    public static Picture? Draw(LocateResult result, LocateCase about, Func<Timestamp, string> clock)
    {
        ArgumentNullException.ThrowIfNull(result);
        ArgumentNullException.ThrowIfNull(about);
        ArgumentNullException.ThrowIfNull(clock);
        if (result.Best is not LocateCandidate best || result.Fit is not LocateFit fit || about.Question.Trace is not LightTrace trace)
        {
            return null;
        }

        int step = Math.Max(1, (trace.Count + MostPoints - 1) / MostPoints);
        int[] shown = [.. Enumerable.Range(0, trace.Count).Where(index => index % step == 0)];
        Timestamp start = trace.First;
        double[] at = [.. shown.Select(index => (trace.Times[index] - start).TotalSeconds)];
        double[] light = [.. shown.Select(index => Level(trace, index))];
        Timestamp[] times = [.. shown.Select(index => trace.Times[index])];
        List<(string Name, double[] Level, double Likeness)> predicted = [Predicted(best, about, fit, times, light)];
        if (result.RunnerUp is LocateCandidate second)
        {
            predicted.Add(Predicted(second, about, fit, times, light));
        }

        Plot plot = PlotStyle.New();
        ScottPlot.Plottables.Scatter measured = plot.Add.ScatterLine(at, light, Color.FromHex("#888888"));
        measured.LineWidth = 3;
        measured.LegendText = "measured light";
        for (int line = 0; line < predicted.Count; line++)
        {
            ScottPlot.Plottables.Scatter drawn = plot.Add.ScatterLine(at, predicted[line].Level, PlotStyle.Lines[line].Color);
            drawn.LineWidth = 1.5f;
            drawn.LinePattern = PlotStyle.Lines[line].Pattern;
            drawn.LegendText = (line == 0 ? "predicted: " : "runner-up: ") + predicted[line].Name;
        }

        PlotStyle.TimeAxis(plot, start, at[^1], clock);
        plot.Axes.Margins(0, 0.3);
        plot.Axes.AutoScaleY();
        plot.Axes.SetLimitsX(0, at[^1]);
        plot.YLabel("light, as the trace counts it");
        plot.ShowLegend(Alignment.UpperRight, Orientation.Horizontal);
        return new Picture(
            $"Why {about.Unit.Unit} is said to read {predicted[0].Name}",
            PlotStyle.Svg(plot, Height),
            PlotStyle.Width,
            Height,
            Words(result, about, fit, predicted),
            ["time", "measured", .. predicted.Select(each => "predicted by " + each.Name)],
            [
                .. shown.Select((_, place) => (IReadOnlyList<string>)
                [
                    clock(times[place]), PlotStyle.Cell(light[place]), .. predicted.Select(each => PlotStyle.Cell(each.Level[place])),
                ]),
            ]);
    }

    private static double Level(LightTrace trace, int index) =>
        Enumerable.Range(0, trace.ChannelCount).Sum(channel => trace.Channel(channel)[index]) / trace.ChannelCount;

    private static string Words(LocateResult result, LocateCase about, LocateFit fit, List<(string Name, double[] Level, double Likeness)> predicted)
    {
        string likeness = string.Join("; ", predicted.Select(each => string.Create(
            CultureInfo.InvariantCulture, $"{each.Name} {Figures.Number(100 * Math.Max(0, each.Likeness))} % of the light's variation")));
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Grey: what was measured ({about.Question.Trace!.Count} readings). The predictions are what the chart says of the slots captured there, {Figures.Number(fit.DelaySeconds)} s later, with gain and offset fitted for each. They follow: {likeness}. The decision rests on more than this picture (prior, the other lights, the fit check): score {Figures.Number(100 * result.ClassScore)} %, capped at 99.5 %.");
    }

    // As the inference does it, for the eye: response curve, lag and delay of the best fit, then gain and offset by least squares.
    private static (string Name, double[] Level, double Likeness) Predicted(
        LocateCandidate candidate, LocateCase about, LocateFit fit, Timestamp[] times, double[] light)
    {
        SlotHistory history = about.Question.Histories[candidate.Hypothesis.History];
        LightModel model = new(about.Question.Modes[candidate.Hypothesis.Mode]);
        int present = Math.Clamp(history.SlotsSent - candidate.Hypothesis.Address + 1, 0, model.Mode.Footprint);
        int first = Math.Max(0, history.SampleOf(times[0]) - SlotHistory.RatePerSecond);
        int last = history.SampleOf(times[^1]);
        double[] samples = Samples(history, model, candidate.Hypothesis.Address, present, first, last, fit);
        double[] level = new double[times.Length];
        for (int place = 0; place < times.Length; place++)
        {
            int sample = history.SampleOf(times[place]) - (int)Math.Round(fit.DelaySeconds * SlotHistory.RatePerSecond);
            level[place] = samples[Math.Clamp(sample - first, 0, samples.Length - 1)];
        }

        double likeness = Fit(level, light);
        int sheet = about.SheetUniverses[candidate.Hypothesis.History];
        string universe = sheet >= 0 ? sheet.ToString(CultureInfo.InvariantCulture) : candidate.Universe.Label;
        return (string.Create(CultureInfo.InvariantCulture, $"{universe}.{candidate.Hypothesis.Address:000}"), level, likeness);
    }

    private static double[] Samples(SlotHistory history, LightModel model, int address, int present, int first, int last, LocateFit fit)
    {
        List<(int Sample, int Slot, byte Level)> changes =
        [
            .. Enumerable.Range(0, present).SelectMany(slot => history.Changes(address + slot).Select(change => (change.Sample, slot, change.Level))).OrderBy(change => change.Sample),
        ];
        byte[] slots = new byte[present];
        double[] samples = new double[Math.Max(1, last - first + 1)];
        double smoothed = double.NaN;
        int next = 0;
        for (int sample = first; sample <= last; sample++)
        {
            for (; next < changes.Count && changes[next].Sample <= sample; next++)
            {
                slots[changes[next].Slot] = changes[next].Level;
            }

            double now = Math.Pow(model.Predict(slots).Luminance, fit.Response);
            smoothed = double.IsNaN(smoothed) ? now : smoothed + ((now - smoothed) / (1 + Math.Max(0, fit.LagSamples)));
            samples[sample - first] = smoothed;
        }

        return samples;
    }

    // Puts gain and offset on a prediction; returns the share of the light's variance that it follows.
    private static double Fit(double[] level, double[] light)
    {
        double meanLevel = level.Average();
        double meanLight = light.Average();
        double cross = 0;
        double own = 0;
        double all = 0;
        for (int i = 0; i < level.Length; i++)
        {
            cross += (level[i] - meanLevel) * (light[i] - meanLight);
            own += (level[i] - meanLevel) * (level[i] - meanLevel);
            all += (light[i] - meanLight) * (light[i] - meanLight);
        }

        double gain = own > 0 ? Math.Max(0, cross / own) : 0;
        for (int i = 0; i < level.Length; i++)
        {
            level[i] = meanLight + (gain * (level[i] - meanLevel));
        }

        return own > 0 && all > 0 ? cross * cross / (own * all) : 0;
    }
}
