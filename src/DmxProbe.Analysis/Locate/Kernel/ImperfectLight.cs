namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Allows for a light model that is only nearly right: emitters some 25 % stronger or weaker than the chart makes them,
/// a camera whose channels see some of each other's colour, and an exposure that drifts by a few per cent. All are
/// columns beside the light with a small Gaussian prior.
/// </summary>
internal sealed class ImperfectLight
{
    private const double DriftError = 0.06;
    private const double Floor = StepScorer.ModelError * StepScorer.ModelError;

    private readonly Weighing _weighing;
    private readonly ChannelWeighing _weighed;
    private readonly double _noise;
    private readonly double _total;
    private readonly int _delay;
    private readonly double[] _light;
    private readonly double[] _onSpill;
    private readonly double _squares;
    private readonly double _along;
    private readonly List<double[]> _columns = [];
    private readonly List<double> _errors = [];
    private readonly double[][] _places;
    private readonly double[] _withLight;
    private readonly double[] _withTrace;
    private readonly double[,] _products;

    /// <summary>Prepares the products of a channel.</summary>
    /// <param name="weighing">The samples that count.</param>
    /// <param name="channel">Which channel.</param>
    /// <param name="evidence">That channel.</param>
    /// <param name="delay">Delay of the hypothesis.</param>
    /// <param name="raw">The lagging light.</param>
    /// <param name="light">The same, taken.</param>
    /// <param name="errors">What the light would gain by each error, with the error's deviation.</param>
    public ImperfectLight(
        Weighing weighing,
        int channel,
        ChannelEvidence evidence,
        int delay,
        double[] raw,
        double[] light,
        IEnumerable<(double[] Column, double Error)> errors)
    {
        _weighing = weighing;
        _weighed = weighing[channel];
        _noise = evidence.Noise;
        _total = Math.Max(_weighed.Total(delay), 1e-12);
        _delay = delay;
        _light = light;
        _onSpill = _weighed.OnSpill(light);
        _squares = Lanes.Dot(light, light);
        _along = Lanes.Dot(light, evidence.Delayed[delay]);
        foreach ((double[] column, double error) in errors)
        {
            weighing.Take(column);
            _columns.Add(column);
            _errors.Add(error);
        }

        foreach (double[] wave in evidence.Waves)
        {
            _columns.Add(Drift(raw, wave));
            _errors.Add(DriftError);
        }

        int count = _squares > 1e-9 ? _columns.Count : 0;
        _places = new double[count][];
        _withLight = new double[count];
        _withTrace = new double[count];
        _products = new double[count, count];
        for (int i = 0; i < count; i++)
        {
            _places[i] = _weighed.OnSpill(_columns[i]);
            _withLight[i] = Lanes.Dot(_columns[i], light);
            _withTrace[i] = Lanes.Dot(_columns[i], evidence.Delayed[delay]);
            for (int j = 0; j <= i; j++)
            {
                _products[i, j] = Lanes.Dot(_columns[i], _columns[j]);
            }
        }
    }

    /// <summary>The fit under one strength of spill.</summary>
    public ImperfectFit Of(int spill)
    {
        double trace = _weighed.TraceSquares(spill, _delay);
        double determinant = _weighed.LogDeterminant(spill);
        double[] lightTurned = _weighed.Turned(spill, _onSpill);
        double own = _squares - Lanes.Dot(lightTurned, lightTurned);
        double along = _weighed.WithTrace(spill, _delay, _along, _onSpill);
        if (along <= 0 || own < StepScorer.SmallestRest * _squares || own <= 1e-9 || _places.Length == 0)
        {
            double none = Likelihood(trace) + determinant;
            return new ImperfectFit(none, none, 0, []);
        }

        int count = _places.Length;
        double gain = along / own;
        double noise = _noise + (Floor * _total / _weighing.Count);
        double[][] turned = [.. _places.Select(place => _weighed.Turned(spill, place))];
        double[] withLight = new double[count];
        double[] right = new double[count];
        double[,] moment = new double[count, count];
        for (int i = 0; i < count; i++)
        {
            double prior = _errors[i] * gain;
            withLight[i] = _withLight[i] - Lanes.Dot(turned[i], lightTurned);
            right[i] = (_weighed.WithTrace(spill, _delay, _withTrace[i], _places[i]) - (withLight[i] * gain)) * prior / noise;
            for (int j = 0; j <= i; j++)
            {
                double product = _products[i, j] - Lanes.Dot(turned[i], turned[j]) - (withLight[i] * withLight[j] / own);
                moment[i, j] = moment[j, i] = (product * prior * _errors[j] * gain / noise) + (i == j ? 1 : 0);
            }
        }

        Cholesky factor = new(moment);
        double[] solved = [.. right];
        factor.Solve(solved);
        double rest = trace - (along * gain);
        double perfect = Likelihood(rest) + determinant;
        double lightGain = gain;
        for (int i = 0; i < count; i++)
        {
            rest -= right[i] * solved[i] * noise;
            solved[i] *= _errors[i] * gain;
            lightGain -= solved[i] * withLight[i] / own;
        }

        return new ImperfectFit(Likelihood(rest) - (0.5 * factor.LogDeterminant) + determinant, perfect, lightGain, solved);
    }

    /// <summary>The light with its corrections, in units of the trace.</summary>
    public double[] Fitted(ImperfectFit fit)
    {
        double[] fitted = new double[_light.Length];
        Lanes.AddScaled(fitted, _light, fit.Gain);
        for (int i = 0; i < fit.Coefficients.Length; i++)
        {
            Lanes.AddScaled(fitted, _columns[i], fit.Coefficients[i]);
        }

        return fitted;
    }

    private double Likelihood(double rest) => -0.5 * _weighing.Count * Math.Log((Math.Max(rest, 0) / _total) + Floor);

    private double[] Drift(double[] raw, double[] wave)
    {
        double[] column = new double[raw.Length];
        for (int t = 0; t < column.Length; t++)
        {
            column[t] = raw[t] * wave[t];
        }

        _weighing.Take(column);
        return column;
    }
}
