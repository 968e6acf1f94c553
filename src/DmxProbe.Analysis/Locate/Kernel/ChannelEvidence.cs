namespace DmxProbe.Analysis.Locate;

/// <summary>
/// One channel of the trace, prepared so that a hypothesis costs one row addition for each step of its light: row t
/// holds, for every delayed copy of the trace and every spill vector, what a unit step at sample t would add to the
/// product with the lagging light.
/// </summary>
internal sealed class ChannelEvidence
{
    /// <summary>Delays tried: 0 to 15 samples, 0 to half a second.</summary>
    public const int Delays = 16;

    private const double Smallest = 1e-12;
    private const int DriftWaves = 3;
    private readonly Dictionary<double, double[]> _rows = [];
    private double[]? _spanRows;
    private readonly double[] _sums;
    private readonly double[] _squares;

    public ChannelEvidence(double[] trace, double noise, int samples, SpillSpace spill)
    {
        Trace = trace;
        Samples = samples;
        Spill = spill;

        // A channel that never changes (blue of a light without blue) must not make anything infinite.
        Noise = Math.Max(noise, Smallest);
        Deviation = Math.Sqrt(Math.Max(NoiseLevel.Spread(trace), Smallest));
        Stride = Lanes.Padded(Delays + spill.Dimension);
        Total = new double[Delays];
        TraceOnSpill = new double[spill.Dimension * Delays];
        Delayed = new double[Delays][];
        DelayedMean = new double[Delays];
        _sums = new double[trace.Length + 1];
        _squares = new double[trace.Length + 1];
        for (int t = 0; t < trace.Length; t++)
        {
            _sums[t + 1] = _sums[t] + trace[t];
            _squares[t + 1] = _squares[t] + (trace[t] * trace[t]);
        }

        for (int d = 0; d < Delays; d++)
        {
            Delayed[d] = trace.AsSpan(d, samples).ToArray();
            DelayedMean[d] = Lanes.Centre(Delayed[d]);
            Total[d] = Math.Max(Lanes.Dot(Delayed[d], Delayed[d]), Smallest);
            for (int k = 0; k < spill.Dimension; k++)
            {
                TraceOnSpill[(k * Delays) + d] = Lanes.Dot(spill.Vectors[k], Delayed[d]);
            }
        }

        Waves = [.. Enumerable.Range(1, DriftWaves).Select(wave => Enumerable.Range(0, samples).Select(t => Math.Cos(Math.PI * wave * t / samples)).ToArray())];
        Scales = [.. SpillStrength.All.Select(strength => new SpillWeights(this, strength))];
    }

    /// <summary>The readings, 15 longer than the window.</summary>
    public double[] Trace { get; }

    /// <summary>Length of the window.</summary>
    public int Samples { get; }

    public SpillSpace Spill { get; }

    /// <summary>Variance of the noise, as if white at the rate of the grid.</summary>
    public double Noise { get; }

    /// <summary>Standard deviation of the readings.</summary>
    public double Deviation { get; }

    public int Stride { get; }

    /// <summary>The delayed copies, centred.</summary>
    public double[][] Delayed { get; }

    /// <summary>What centring took off each.</summary>
    public double[] DelayedMean { get; }

    /// <summary>Their sums of squares.</summary>
    public double[] Total { get; }

    /// <summary>Product of spill vector k and delayed copy d at [16 k + d].</summary>
    public double[] TraceOnSpill { get; }

    /// <summary>How an exposure may drift over the window: half a wave, a whole one, and one and a half.</summary>
    public double[][] Waves { get; }

    /// <summary>One for each spill strength.</summary>
    public SpillWeights[] Scales { get; }

    /// <summary>Sum and sum of squares of a delayed copy over a span.</summary>
    public (double Sum, double Squares) Over(int delay, int from, int to)
    {
        double mean = DelayedMean[delay];
        double plain = _sums[to + delay] - _sums[from + delay];
        double squares = _squares[to + delay] - _squares[from + delay];
        return (plain - ((to - from) * mean), squares - (2 * mean * plain) + ((to - from) * mean * mean));
    }

    /// <summary>The rows for a lag; built once.</summary>
    public double[] Rows(Smoothing smoothing)
    {
        lock (_rows)
        {
            return Built(smoothing);
        }
    }

    private double[] Built(Smoothing smoothing)
    {
        if (_rows.TryGetValue(smoothing.Tau, out double[]? rows))
        {
            return rows;
        }

        rows = new double[(Samples + 1) * Stride];
        for (int d = 0; d < Delays; d++)
        {
            Backwards(Delayed[d], smoothing.A, rows, d);
        }

        for (int k = 0; k < Spill.Dimension; k++)
        {
            Backwards(Spill.Vectors[k], smoothing.A, rows, Delays + k);
        }

        _rows.Add(smoothing.Tau, rows);
        return rows;
    }

    /// <summary>
    /// Like <see cref="Rows"/> for the delayed copies alone and a light cut into spans: the lag is laid on the trace
    /// instead, so that a step counts from its sample on to the sample where the next span begins.
    /// </summary>
    public double[] SpanRows(Smoothing smoothing)
    {
        lock (_rows)
        {
            return _spanRows ??= BuiltSpans(smoothing);
        }
    }

    private double[] BuiltSpans(Smoothing smoothing)
    {
        double[] spans = new double[(Samples + 1) * Delays];
        for (int d = 0; d < Delays; d++)
        {
            double lagged = 0;
            double sum = 0;
            for (int t = Samples - 1; t >= 0; t--)
            {
                lagged = ((1 - smoothing.A) * Delayed[d][t]) + (smoothing.A * lagged);
                sum += lagged;
                spans[(t * Delays) + d] = sum;
            }
        }

        return spans;
    }

    /// <summary>A step at t has come to 1 - a^(u-t+1) at sample u.</summary>
    private void Backwards(double[] signal, double a, double[] rows, int column)
    {
        double sum = 0;
        double faded = 0;
        for (int t = Samples - 1; t >= 0; t--)
        {
            sum += signal[t];
            faded = signal[t] + (a * faded);
            rows[(t * Stride) + column] = sum - (a * faded);
        }
    }
}
