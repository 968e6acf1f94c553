namespace DmxProbe.Analysis.Locate;

/// <summary>A trace on the grid of the histories.</summary>
/// <param name="First">Sample of the first value.</param>
/// <param name="Channels">One or three series of equal length.</param>
/// <param name="Noise">Variance of the noise of each, as if white at the rate of the grid.</param>
internal sealed record TraceGrid(int First, double[][] Channels, double[] Noise)
{
    public int Count => Channels[0].Length;
}
