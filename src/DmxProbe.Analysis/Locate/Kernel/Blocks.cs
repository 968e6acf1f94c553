namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Means of a few samples in place of each, for long windows: what only sums over the window say (how lights relate to each other)
/// needs no thirtieth of a second. Scaled so that products of blocks stand for products of samples.
/// </summary>
internal static class Blocks
{
    /// <summary>Windows up to this many samples (three minutes) are taken as they are.</summary>
    public const int Shortest = 5400;

    private const int Wanted = 2700;

    /// <summary>Samples to a block.</summary>
    public static int Size(int samples) => samples <= Shortest ? 1 : samples / Wanted;

    /// <summary>The blocks of a series; what is left over at its end is dropped.</summary>
    public static double[] Of(double[] series, int size)
    {
        if (size == 1)
        {
            return series;
        }

        double[] blocks = new double[series.Length / size];
        double scale = 1 / Math.Sqrt(size);
        for (int b = 0; b < blocks.Length; b++)
        {
            double sum = 0;
            for (int i = b * size; i < (b + 1) * size; i++)
            {
                sum += series[i];
            }

            blocks[b] = sum * scale;
        }

        return blocks;
    }
}
