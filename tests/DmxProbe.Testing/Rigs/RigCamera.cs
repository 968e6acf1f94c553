namespace DmxProbe.Testing.Rigs;

/// <summary>What stands between the light and the trace: response, lag, delay, spill, drift, crosstalk and noise.</summary>
public sealed class RigCamera
{
    private const double PlainLag = 2.5;
    private static readonly double[] PlainGammas = [0.5, 0.8, 1, 1.5, 2];
    private readonly RigRandom _random;
    private readonly double _lag;
    private readonly double _gamma;
    private readonly double _delay;
    private readonly bool _rough;

    /// <summary>Draws a camera.</summary>
    public RigCamera(bool rough, RigRandom random)
    {
        _random = random;
        _rough = rough;
        _lag = rough ? random.Between(0.033, 0.27) * 30 : PlainLag;
        _gamma = rough ? Math.Exp(random.Between(Math.Log(0.4), Math.Log(2.4))) : random.Pick(PlainGammas);
        _delay = rough ? random.Between(0, 15) : 1 + random.Below(9);
    }

    /// <summary>The trace of one or three channels.</summary>
    /// <param name="own">Red, green and blue of the light.</param>
    /// <param name="spill">Red, green and blue of what the others add.</param>
    /// <param name="rgb">Three channels instead of one.</param>
    /// <param name="decibels">Signal to noise of the luminance.</param>
    public double[][] See(double[][] own, double[][] spill, bool rgb, double decibels)
    {
        double[][] seen = Clean(own, spill, rgb);
        double noise = Noise(seen, decibels);
        foreach (double[] channel in seen)
        {
            for (int t = 0; t < channel.Length; t++)
            {
                channel[t] = 0.05 + (0.8 * (channel[t] + (noise * _random.Gaussian())));
            }
        }

        return seen;
    }

    /// <summary>The light at the camera before noise, on the grid of the histories.</summary>
    public double[][] Clean(double[][] own, double[][] spill, bool rgb)
    {
        double[][] lit = rgb ? Crosstalk(own) : [Luminance(own)];
        double[][] added = rgb ? spill : [Luminance(spill)];
        double[] drift = Drift(own[0].Length);
        double[][] seen = new double[lit.Length][];
        for (int c = 0; c < lit.Length; c++)
        {
            double[] raised = [.. lit[c].Select(value => value > 0 ? Math.Pow(value, _gamma) : 0)];
            double[] mine = Lag(raised, _lag);
            double[] theirs = Lag(added[c], PlainLag);
            seen[c] = [.. Enumerable.Range(0, mine.Length).Select(t => drift[t] * (Delayed(mine, t) + Delayed(theirs, t)))];
        }

        return seen;
    }

    /// <summary>Deviation of white noise on each reading of a channel, for a signal to noise of the luminance.</summary>
    public static double Noise(double[][] clean, double decibels)
    {
        double variance = Variance(clean.Length == 1 ? clean[0] : Luminance(clean));
        return Math.Sqrt(variance / Math.Pow(10, decibels / 10) * clean.Length);
    }

    /// <summary>A third of the sum of three channels.</summary>
    public static double[] Luminance(double[][] light) => [.. light[0].Select((_, t) => (light[0][t] + light[1][t] + light[2][t]) / 3)];

    private static double Variance(double[] values)
    {
        double mean = values.Average();
        return values.Sum(value => (value - mean) * (value - mean)) / values.Length;
    }

    private static double[] Lag(double[] values, double tau)
    {
        double keep = Math.Exp(-1 / tau);
        double state = values[0];
        return [.. values.Select(value => state = (keep * state) + ((1 - keep) * value))];
    }

    private double Delayed(double[] values, int t)
    {
        double at = Math.Max(t - _delay, 0);
        int whole = (int)at;
        double share = at - whole;
        return whole + 1 < values.Length ? (values[whole] * (1 - share)) + (values[whole + 1] * share) : values[whole];
    }

    private double[] Drift(int samples)
    {
        if (!_rough)
        {
            return [.. Enumerable.Repeat(1.0, samples)];
        }

        double first = _random.Between(40, 200) * 30, second = _random.Between(40, 200) * 30;
        double a = _random.Between(0, 2 * Math.PI), b = _random.Between(0, 2 * Math.PI);
        return [.. Enumerable.Range(0, samples).Select(t =>
            1 + (0.05 * Math.Sin((2 * Math.PI * t / first) + a)) + (0.05 * Math.Sin((2 * Math.PI * t / second) + b)))];
    }

    private double[][] Crosstalk(double[][] light)
    {
        if (!_rough)
        {
            return light;
        }

        double[][] mixed = [new double[light[0].Length], new double[light[0].Length], new double[light[0].Length]];
        for (int c = 0; c < 3; c++)
        {
            for (int from = 0; from < 3; from++)
            {
                double share = c == from ? 1 : 0.08 * Math.Exp(0.25 * _random.Gaussian());
                for (int t = 0; t < mixed[c].Length; t++)
                {
                    mixed[c][t] += share * light[from][t];
                }
            }
        }

        return mixed;
    }
}
