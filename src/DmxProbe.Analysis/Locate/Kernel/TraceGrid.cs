namespace DmxProbe.Analysis.Locate;

/// <summary>A trace on the grid of the histories. Long gaps between its readings are cut out, not filled in.</summary>
/// <param name="Places">The histories' sample of each value, rising.</param>
/// <param name="Channels">One or three series of equal length.</param>
/// <param name="Noise">Variance of the noise of each, as if white at the rate of the grid.</param>
internal sealed record TraceGrid(int[] Places, double[][] Channels, double[] Noise)
{
    public int Count => Channels[0].Length;
}
