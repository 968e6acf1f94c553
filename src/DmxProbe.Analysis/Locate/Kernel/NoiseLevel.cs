namespace DmxProbe.Analysis.Locate;

/// <summary>The noise of a trace from its first differences: what is left over by a wrong light is not noise.</summary>
internal static class NoiseLevel
{
    /// <summary>Variance of white noise in the readings; never below a small share of their variance.</summary>
    public static double Variance(ReadOnlySpan<double> values)
    {
        double[] steps = new double[Math.Max(values.Length - 1, 1)];
        for (int i = 1; i < values.Length; i++)
        {
            steps[i - 1] = Math.Abs(values[i] - values[i - 1]);
        }

        Array.Sort(steps);
        double median = steps[steps.Length / 2] / 0.6745;
        return Math.Max(median * median / 2, 1e-5 * Spread(values));
    }

    /// <summary>Variance of the readings.</summary>
    public static double Spread(ReadOnlySpan<double> values)
    {
        double sum = 0;
        double squares = 0;
        foreach (double value in values)
        {
            sum += value;
        }

        double mean = sum / Math.Max(values.Length, 1);
        foreach (double value in values)
        {
            squares += (value - mean) * (value - mean);
        }

        return squares / Math.Max(values.Length, 1);
    }
}
