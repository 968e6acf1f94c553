namespace DmxProbe.Analysis.Video;

/// <summary>
/// Finds a steady beat faster than a person works a fader: one line of the spectrum that stands far above the rest. It may
/// be mains or dimming that the camera samples too slowly, or a chase; the trace alone cannot tell which.
/// </summary>
public static class BeatFinder
{
    private const double Slowest = 3;
    private const double Neighbourhood = 1.5;
    private const int FewestSamples = 90;
    private const int MostSamples = 2048;
    private const double Prominence = 60;
    private const double SmallestShare = 0.04;

    /// <summary>The beat, Hz; null where none stands out.</summary>
    /// <param name="samples">By rising time.</param>
    /// <param name="picturesPerSecond">Of the camera.</param>
    public static double? Of(IReadOnlyList<LightSample> samples, double picturesPerSecond)
    {
        ArgumentNullException.ThrowIfNull(samples);
        int count = Math.Min(samples.Count, MostSamples);
        double fastest = picturesPerSecond / 2;
        if (count < FewestSamples || fastest <= Slowest)
        {
            return null;
        }

        double span = samples[count - 1].Seconds - samples[0].Seconds;
        double[] values = Quick(samples, count);
        double total = values.Sum(value => value * value);
        if (span <= 0 || total <= 1e-12 * count)
        {
            return null;
        }

        List<double> powers = [];
        double step = 0.5 / span;
        int lines = Math.Min(4 * MostSamples, (int)((fastest - Slowest) / step));
        for (int k = 0; k < lines; k++)
        {
            powers.Add(Power(samples, values, Slowest + (k * step)));
        }

        if (powers.Count < 8)
        {
            return null;
        }

        int place = powers.IndexOf(powers.Max());
        int around = (int)Math.Ceiling(Neighbourhood / step);
        List<double> near = powers.GetRange(Math.Max(0, place - around), Math.Min(powers.Count, place + around + 1) - Math.Max(0, place - around));
        near.Sort();
        return powers[place] > Prominence * near[near.Count / 2] && powers[place] > SmallestShare * total * count / 2
            ? Slowest + (place * step)
            : null;
    }

    // What is left beside the mean of the neighbours: fades and steps go, a beat stays.
    private static double[] Quick(IReadOnlyList<LightSample> samples, int count)
    {
        const int Around = 4;
        double[] level = [.. samples.Take(count).Select(sample => sample.Red + sample.Green + sample.Blue)];
        double[] quick = new double[count];
        for (int i = 0; i < count; i++)
        {
            int from = Math.Max(0, i - Around);
            int to = Math.Min(count, i + Around + 1);
            double sum = 0;
            for (int j = from; j < to; j++)
            {
                sum += level[j];
            }

            // Tapered at both ends, or the window's own ends show as lines.
            quick[i] = (level[i] - (sum / (to - from))) * (0.5 - (0.5 * Math.Cos(2 * Math.PI * (i + 0.5) / count)));
        }

        return quick;
    }

    private static double Power(IReadOnlyList<LightSample> samples, double[] values, double frequency)
    {
        double real = 0;
        double imaginary = 0;
        for (int i = 0; i < values.Length; i++)
        {
            (double sin, double cos) = Math.SinCos(2 * Math.PI * frequency * samples[i].Seconds);
            real += values[i] * cos;
            imaginary += values[i] * sin;
        }

        return (real * real) + (imaginary * imaginary);
    }
}
