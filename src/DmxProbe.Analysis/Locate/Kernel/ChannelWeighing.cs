namespace DmxProbe.Analysis.Locate;

/// <summary>One channel of a <see cref="Weighing"/>.</summary>
internal sealed class ChannelWeighing
{
    private readonly ChannelEvidence _channel;
    private readonly int _dimension;
    private readonly double[] _total;
    private readonly IReadOnlyList<(int From, int To)> _kept;
    private readonly IReadOnlyList<(int From, int To)> _masked;
    private readonly int _count;
    private readonly ScaleWeights?[] _scales = new ScaleWeights?[SpillStrength.All.Length];
    private double[]? _traceOnSpill;
    private double[,]? _gram;

    public ChannelWeighing(
        ChannelEvidence channel,
        IReadOnlyList<(int From, int To)> kept,
        IReadOnlyList<(int From, int To)> masked,
        int count)
    {
        _channel = channel;
        _dimension = channel.Spill.Dimension;
        _kept = kept;
        _masked = masked;
        _count = Math.Max(count, 1);
        _total = [.. channel.Total];
        for (int d = 0; d < ChannelEvidence.Delays && masked.Count > 0; d++)
        {
            (double sum, double squares) = (0, 0);
            foreach ((int from, int to) in kept)
            {
                (double partSum, double partSquares) = channel.Over(d, from, to);
                sum += partSum;
                squares += partSquares;
            }

            _total[d] = squares - (sum * sum / _count);
        }
    }

    /// <summary>Samples that count, at least 1.</summary>
    public int Count => _count;

    /// <summary>Sum of squares of a delayed copy, without spill.</summary>
    public double Total(int delay) => _total[delay];

    public double LogDeterminant(int scale) => scale == 0 ? 0 : Scale(scale).LogDeterminant;

    /// <summary>The trace with itself.</summary>
    public double TraceSquares(int scale, int delay) => Scale(scale).Total[delay];

    /// <summary>Products of a series with the spill vectors.</summary>
    public double[] OnSpill(ReadOnlySpan<double> series)
    {
        double[] along = new double[_dimension];
        for (int k = 0; k < _dimension; k++)
        {
            along[k] = Lanes.Dot(_channel.Spill.Vectors[k], series);
        }

        return along;
    }

    /// <summary>
    /// Products with the spill vectors, turned so that the inner product of two series is their plain product less the
    /// plain product of what this gives for each.
    /// </summary>
    public double[] Turned(int scale, ReadOnlySpan<double> onSpill)
    {
        double[] turned = new double[_dimension];
        if (scale > 0)
        {
            double[] root = Scale(scale).Root;
            for (int k = 0; k < _dimension; k++)
            {
                turned[k] = Lanes.Dot(root.AsSpan(k * _dimension, k + 1), onSpill[..(k + 1)]);
            }
        }

        return turned;
    }

    /// <summary>Inner product of a series with itself from its plain product and its products with the spill vectors.</summary>
    public double Square(int scale, double plain, ReadOnlySpan<double> onSpill)
    {
        double[] turned = Turned(scale, onSpill);
        return plain - Lanes.Dot(turned, turned);
    }

    /// <summary>Inner product of a series with a delayed copy of the trace.</summary>
    public double WithTrace(int scale, int delay, ReadOnlySpan<double> series, ReadOnlySpan<double> onSpill) =>
        WithTrace(scale, delay, Lanes.Dot(series, _channel.Delayed[delay]), onSpill);

    /// <summary>The same from the plain product.</summary>
    public double WithTrace(int scale, int delay, double plain, ReadOnlySpan<double> onSpill)
    {
        double[] reduced = Scale(scale).ReducedTrace;
        double sum = plain;
        for (int k = 0; k < _dimension; k++)
        {
            sum -= onSpill[k] * reduced[(k * ChannelEvidence.Delays) + delay];
        }

        return sum;
    }

    /// <summary>The most likely amount of each spill vector in what a light with this gain leaves of a delayed copy.</summary>
    public double[] Amounts(int scale, int delay, double gain, ReadOnlySpan<double> onSpill)
    {
        double[] amounts = new double[_dimension];
        if (scale > 0)
        {
            ScaleWeights weights = Scale(scale);
            double[] turned = Turned(scale, onSpill);
            for (int k = 0; k < _dimension; k++)
            {
                Lanes.AddScaled(amounts.AsSpan(0, k + 1), weights.Root.AsSpan(k * _dimension, k + 1), -gain * turned[k]);
            }

            for (int k = 0; k < _dimension; k++)
            {
                amounts[k] += weights.ReducedTrace[(k * ChannelEvidence.Delays) + delay];
            }
        }

        return amounts;
    }

    /// <summary>Multiplies what the light leaves of the trace into the ratios, by strength and delay.</summary>
    public void AddRatios(double[] light, int scales, Span<double> ratios)
    {
        double squares = Lanes.Dot(light, light);
        double[] onSpill = scales > 1 ? OnSpill(light) : [];
        Span<double> plain = stackalloc double[ChannelEvidence.Delays];
        Span<double> along = stackalloc double[ChannelEvidence.Delays];
        for (int d = 0; d < plain.Length; d++)
        {
            plain[d] = Lanes.Dot(light, _channel.Delayed[d]);
        }

        for (int s = 0; s < scales; s++)
        {
            plain.CopyTo(along);
            double rest = squares;
            double[] total = _total;
            if (s > 0)
            {
                ScaleWeights scale = Scale(s);
                total = scale.Total;
                rest = Square(s, squares, onSpill);
                for (int k = 0; k < _dimension; k++)
                {
                    Lanes.AddRow(ref along[0], ref scale.ReducedTrace[k * ChannelEvidence.Delays], -onSpill[k], ChannelEvidence.Delays);
                }
            }

            bool explains = squares > 1e-9 && rest >= StepScorer.SmallestRest * squares;
            for (int d = 0; d < along.Length; d++)
            {
                double positive = Math.Max(along[d], 0);
                double left = total[d] - (explains ? positive * positive / rest : 0);
                ratios[(s * ChannelEvidence.Delays) + d] *=
                    (Math.Max(left, 0) / Math.Max(_total[d], 1e-12)) + (StepScorer.ModelError * StepScorer.ModelError);
            }
        }
    }

    /// <summary>
    /// Products among the spill vectors and with the trace over the samples that count, needed from the first strength
    /// above 0 on. Everything was centred over the whole window: sums over what is kept are minus those over what is masked.
    /// </summary>
    private void Reweigh()
    {
        _gram = new double[_dimension, _dimension];
        _traceOnSpill = [.. _channel.TraceOnSpill];
        for (int k = 0; k < _dimension; k++)
        {
            _gram[k, k] = 1;
        }

        if (_masked.Count == 0)
        {
            return;
        }

        bool shorter = _count < _channel.Samples / 2;
        double[] spillSums = new double[_dimension];
        double[] traceSums = new double[ChannelEvidence.Delays];
        double[,] gram = new double[_dimension, _dimension];
        double[] cross = new double[_traceOnSpill.Length];
        foreach ((int from, int to) in shorter ? _kept : _masked)
        {
            for (int d = 0; d < traceSums.Length; d++)
            {
                traceSums[d] += _channel.Over(d, from, to).Sum;
            }

            for (int k = 0; k < _dimension; k++)
            {
                ReadOnlySpan<double> vector = _channel.Spill.Vectors[k].AsSpan(from..to);
                spillSums[k] += Sum(vector);
                for (int j = 0; j <= k; j++)
                {
                    gram[k, j] += Lanes.Dot(vector, _channel.Spill.Vectors[j].AsSpan(from..to));
                }

                for (int d = 0; d < traceSums.Length; d++)
                {
                    cross[(k * ChannelEvidence.Delays) + d] += Lanes.Dot(vector, _channel.Delayed[d].AsSpan(from..to));
                }
            }
        }

        for (int k = 0; k < _dimension; k++)
        {
            for (int j = 0; j <= k; j++)
            {
                double full = shorter ? gram[k, j] : _gram[k, j] - gram[k, j];
                _gram[k, j] = _gram[j, k] = full - (spillSums[k] * spillSums[j] / _count);
            }

            for (int d = 0; d < traceSums.Length; d++)
            {
                int place = (k * ChannelEvidence.Delays) + d;
                double full = shorter ? cross[place] : _traceOnSpill[place] - cross[place];
                _traceOnSpill[place] = full - (spillSums[k] * traceSums[d] / _count);
            }
        }
    }

    private static double Sum(ReadOnlySpan<double> values)
    {
        double sum = 0;
        foreach (double value in values)
        {
            sum += value;
        }

        return sum;
    }

    private ScaleWeights Scale(int scale)
    {
        if (_scales[scale] is { } known)
        {
            return known;
        }

        if (_gram is null)
        {
            Reweigh();
        }

        return _scales[scale] = new ScaleWeights(_channel, SpillStrength.All[scale], _gram!, _traceOnSpill!, _total);
    }
}
