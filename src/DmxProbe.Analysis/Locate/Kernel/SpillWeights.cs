namespace DmxProbe.Analysis.Locate;

/// <summary>What one strength of spill makes of the inner product: a.b - sum over k of D_k (Q_k.a)(Q_k.b).</summary>
internal sealed class SpillWeights
{
    public SpillWeights(ChannelEvidence channel, SpillStrength tried)
    {
        int dimension = channel.Spill.Dimension;
        Reduction = new double[dimension];
        ReducedTrace = new double[dimension * ChannelEvidence.Delays];
        Total = [.. channel.Total];
        for (int k = 0; k < dimension; k++)
        {
            double strength = tried.Along(k) * channel.Deviation / 0.3;
            double size = strength * strength / channel.Noise * channel.Spill.Values[k];
            double reduction = size / (1 + size);
            Reduction[k] = reduction;
            LogDeterminant -= 0.5 * Math.Log(1 + size);
            for (int d = 0; d < ChannelEvidence.Delays; d++)
            {
                double along = channel.TraceOnSpill[(k * ChannelEvidence.Delays) + d];
                ReducedTrace[(k * ChannelEvidence.Delays) + d] = reduction * along;
                Total[d] -= reduction * along * along;
            }
        }
    }

    /// <summary>D_k.</summary>
    public double[] Reduction { get; }

    /// <summary>D_k (Q_k.y_d) at [16 k + d].</summary>
    public double[] ReducedTrace { get; }

    /// <summary>The trace with itself, by delay.</summary>
    public double[] Total { get; }

    /// <summary>-1/2 sum of ln(1 + l e_k).</summary>
    public double LogDeterminant { get; }
}
