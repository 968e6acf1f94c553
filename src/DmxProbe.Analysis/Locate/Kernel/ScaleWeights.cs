namespace DmxProbe.Analysis.Locate;

/// <summary>One strength of spill over the samples that count: a.b - (Q^T a)^T W (Q^T b), W = (E^-1 / l + G)^-1.</summary>
internal sealed class ScaleWeights
{
    public ScaleWeights(ChannelEvidence channel, SpillStrength tried, double[,] gram, double[] traceOnSpill, double[] total)
    {
        int dimension = channel.Spill.Dimension;
        const int Delays = ChannelEvidence.Delays;
        Root = new double[dimension * dimension];
        ReducedTrace = new double[dimension * Delays];
        Total = [.. total];
        if (tried.Common == 0 || dimension == 0)
        {
            return;
        }

        double unit = channel.Deviation / 0.3;
        double[] root = [.. channel.Spill.Values.Select((value, k) => unit * tried.Along(k) * Math.Sqrt(value / channel.Noise))];
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
        factor.InverseFactor(Root);
        for (int i = 0; i < dimension; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                Root[(i * dimension) + j] *= root[j];
            }
        }

        Span<double> row = stackalloc double[Delays];
        for (int i = 0; i < dimension; i++)
        {
            row.Clear();
            for (int j = 0; j <= i; j++)
            {
                Lanes.AddScaled(row, traceOnSpill.AsSpan(j * Delays, Delays), Root[(i * dimension) + j]);
            }

            for (int d = 0; d < Delays; d++)
            {
                Total[d] -= row[d] * row[d];
            }

            for (int j = 0; j <= i; j++)
            {
                Lanes.AddScaled(ReducedTrace.AsSpan(j * Delays, Delays), row, Root[(i * dimension) + j]);
            }
        }
    }

    /// <summary>A root of W, row after row: W = Root^T Root, lower triangular.</summary>
    public double[] Root { get; }

    /// <summary>W Q^T y_d at [16 k + d].</summary>
    public double[] ReducedTrace { get; }

    /// <summary>The trace with itself, by delay.</summary>
    public double[] Total { get; }

    public double LogDeterminant { get; }
}
