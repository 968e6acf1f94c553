namespace DmxProbe.Analysis.Locate;

/// <summary>A trace on the grid of the histories.</summary>
/// <param name="First">Sample of the first value.</param>
/// <param name="Channels">One or three series of equal length.</param>
internal sealed record TraceGrid(int First, double[][] Channels)
{
    public int Count => Channels[0].Length;
}
