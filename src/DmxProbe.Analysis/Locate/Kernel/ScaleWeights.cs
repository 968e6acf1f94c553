namespace DmxProbe.Analysis.Locate;

/// <summary>One strength of spill over the samples that count: a.b - (Q^T a)^T W (Q^T b), W = (E^-1 / l + G)^-1.</summary>
internal sealed class ScaleWeights
{
    public ScaleWeights(ChannelEvidence channel, double scale, double[,] gram, double[] traceOnSpill, double[] total)
    {
        int dimension = channel.Spill.Dimension;
        const int Delays = ChannelEvidence.Delays;
        Weights = new double[dimension * dimension];
        ReducedTrace = new double[dimension * Delays];
        Total = [.. total];
        if (scale == 0 || dimension == 0)
        {
            return;
        }

        double strength = scale * channel.Deviation / 0.3;
        double[] root = [.. channel.Spill.Values.Select(value => Math.Sqrt(strength * strength / channel.Noise * value))];
        double[,] inner = new double[dimension, dimension];
        for (int i = 0; i < dimension; i++)
        {
            for (int j = 0; j < dimension; j++)
            {
                inner[i, j] = (root[i] * gram[i, j] * root[j]) + (i == j ? 1 : 0);
            }
        }

        Cholesky factor = new(inner);
        LogDeterminant = -0.5 * factor.LogDeterminant;
        double[] inverse = factor.Inverse();
        for (int i = 0; i < dimension; i++)
        {
            for (int j = 0; j < dimension; j++)
            {
                double weight = root[i] * inverse[(i * dimension) + j] * root[j];
                Weights[(i * dimension) + j] = weight;
                Lanes.AddScaled(ReducedTrace.AsSpan(i * Delays, Delays), traceOnSpill.AsSpan(j * Delays, Delays), weight);
            }
        }

        for (int i = 0; i < dimension; i++)
        {
            for (int d = 0; d < Delays; d++)
            {
                Total[d] -= traceOnSpill[(i * Delays) + d] * ReducedTrace[(i * Delays) + d];
            }
        }
    }

    /// <summary>W, row after row.</summary>
    public double[] Weights { get; }

    /// <summary>W Q^T y_d at [16 k + d].</summary>
    public double[] ReducedTrace { get; }

    /// <summary>The trace with itself, by delay.</summary>
    public double[] Total { get; }

    public double LogDeterminant { get; }
}
