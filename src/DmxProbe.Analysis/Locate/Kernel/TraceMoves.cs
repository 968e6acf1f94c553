namespace DmxProbe.Analysis.Locate;

/// <summary>Moves seen in the trace itself, whatever explains them.</summary>
internal static class TraceMoves
{
    /// <summary>From this many on, a light that nothing explains is worth saying.</summary>
    public const int Enough = 5;

    private const int Mean = 5;

    /// <summary>Counts moves that stand clear of the noise; the most of all channels.</summary>
    public static int Count(double[][] trace, ChannelEvidence[] channels)
    {
        int most = 0;
        for (int c = 0; c < trace.Length; c++)
        {
            double[] smooth = new double[Math.Max(trace[c].Length - Mean + 1, 1)];
            for (int t = 0; t < smooth.Length; t++)
            {
                smooth[t] = trace[c].AsSpan(t, Mean).ToArray().Average();
            }

            double range = smooth.Max() - smooth.Min();
            double noise = Math.Sqrt(channels[c].Noise / Mean);
            most = Math.Max(most, LightMoves.Count(smooth, Math.Max(0.1 * range, 6 * noise)));
        }

        return most;
    }

    /// <summary>Whether the light clearly does something that even the best hypothesis leaves open.</summary>
    public static bool NothingExplains(LocateFit fit) =>
        fit.LightChanges >= Enough && fit.Unexplained - (2 * fit.UnexplainedError) > 0.15;
}
