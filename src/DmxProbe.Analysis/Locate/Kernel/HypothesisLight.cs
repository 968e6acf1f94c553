namespace DmxProbe.Analysis.Locate;

/// <summary>Turns the steps of one hypothesis into lagging light, sample by sample.</summary>
internal sealed class HypothesisLight
{
    private const double EmitterError = 0.25;
    private const double CrosstalkError = 0.1;
    private readonly Prediction _prediction;
    private readonly IReadOnlyList<Prediction> _emitters;

    /// <summary>Takes the steps and those of each colour alone (none where the mode does not mix).</summary>
    public HypothesisLight(Prediction prediction, IReadOnlyList<Prediction> emitters)
    {
        _prediction = prediction;
        _emitters = emitters;
    }

    /// <summary>The light of a channel scaled to a peak of 1, raised and smoothed; all zero where it is dark.</summary>
    public double[] Raw(int channel, double gamma, Smoothing smoothing)
    {
        double[] light = new double[_prediction.Samples];
        double peak = _prediction.Peak[channel];
        if (peak <= 0)
        {
            return light;
        }

        _prediction.Fill(channel, light);
        Raise(light, peak, gamma);
        smoothing.Apply(light);
        return light;
    }

    /// <summary>Errors of the light model in a channel: what the light would gain by each, and the error's deviation.</summary>
    public IEnumerable<(double[] Column, double Error)> Errors(int channel, double gamma, Smoothing smoothing) =>
        Emitters(channel, gamma, smoothing).Select(column => (column, EmitterError))
            .Concat(Crosstalk(channel, gamma, smoothing).Select(column => (column, CrosstalkError)));

    /// <summary>What the channel would gain from each of the other channels, by the size of the usual crosstalk.</summary>
    private List<double[]> Crosstalk(int channel, double gamma, Smoothing smoothing)
    {
        List<double[]> columns = [];
        double peak = _prediction.Peak[channel];
        double[] own = new double[_prediction.Samples];
        _prediction.Fill(channel, own);
        for (int other = 0; other < _prediction.Peak.Length && peak > 0; other++)
        {
            if (other == channel || _prediction.Peak[other] <= 0)
            {
                continue;
            }

            double[] column = new double[own.Length];
            _prediction.Fill(other, column);
            double last = double.NaN;
            double gained = 0;
            double lastOwn = double.NaN;
            for (int t = 0; t < column.Length; t++)
            {
                if (column[t] != last || own[t] != lastOwn)
                {
                    (last, lastOwn) = (column[t], own[t]);
                    double with = (own[t] + (CrosstalkError * column[t])) / peak;
                    gained = ((with > 0 ? Math.Pow(with, gamma) : 0) - (own[t] > 0 ? Math.Pow(own[t] / peak, gamma) : 0)) / CrosstalkError;
                }

                column[t] = gained;
            }

            smoothing.Apply(column);
            columns.Add(column);
        }

        return columns;
    }

    /// <summary>For each colour that has a share in the channel: what the light would gain were it twice as strong, to first order.</summary>
    private List<double[]> Emitters(int channel, double gamma, Smoothing smoothing)
    {
        List<double[]> columns = [];
        double peak = _prediction.Peak[channel];
        if (_emitters.Count < 2 || peak <= 0)
        {
            return columns;
        }

        double[] whole = new double[_prediction.Samples];
        _prediction.Fill(channel, whole);
        double[] raised = [.. whole];
        Raise(raised, peak, gamma);
        foreach (Prediction emitter in _emitters)
        {
            if (emitter.Peak[channel] <= 0)
            {
                continue;
            }

            double[] column = new double[whole.Length];
            emitter.Fill(channel, column);
            for (int t = 0; t < column.Length; t++)
            {
                column[t] = whole[t] > 1e-9 ? gamma * raised[t] * Math.Min(column[t] / whole[t], 1) : 0;
            }

            smoothing.Apply(column);
            columns.Add(column);
        }

        // One colour alone is the light itself.
        return columns.Count > 1 ? columns : [];
    }

    /// <summary>Moves of the predicted light where it counts, before any response curve; the most of all channels.</summary>
    public int Moves()
    {
        int most = 0;
        double[] light = new double[_prediction.Samples];
        for (int c = 0; c < _prediction.Value.Length; c++)
        {
            _prediction.Fill(c, light);
            foreach ((int from, int to) in _prediction.Masked)
            {
                // Through a span that does not count the light is taken to stand still.
                light.AsSpan(from, to - from).Fill(from > 0 ? light[from - 1] : light[Math.Min(to, light.Length - 1)]);
            }

            most = Math.Max(most, LightMoves.Count(light, LightMoves.Threshold));
        }

        return most;
    }

    private static void Raise(double[] light, double peak, double gamma)
    {
        double from = double.NaN;
        double to = 0;
        foreach (ref double value in light.AsSpan())
        {
            if (value != from)
            {
                from = value;
                to = value > 0 ? Math.Pow(value / peak, gamma) : 0;
            }

            value = to;
        }
    }
}
