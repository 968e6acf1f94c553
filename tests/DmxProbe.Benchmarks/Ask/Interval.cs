namespace DmxProbe.Benchmarks.Ask;

/// <summary>Intervals of shares.</summary>
public static class Interval
{
    /// <summary>Wilson's score interval, 95 %; counts may be weighed.</summary>
    public static (double Low, double High) Wilson(double hits, double count)
    {
        const double Z = 1.96;
        double share = hits / count;
        double centre = (share + (Z * Z / 2 / count)) / (1 + (Z * Z / count));
        double half = Z * Math.Sqrt((share * (1 - share) / count) + (Z * Z / 4 / count / count)) / (1 + (Z * Z / count));
        return (Math.Max(0, centre - half), Math.Min(1, centre + half));
    }
}
