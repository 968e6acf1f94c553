namespace DmxProbe.Analysis.Locate;

/// <summary>Whether the light of a hypothesis is the same as that of the best, up to gain, offset and response.</summary>
internal sealed class Likeness
{
    private const double Same = 0.9995;
    private readonly Standing _best;
    private readonly Smoothing _smoothing;
    private readonly double[][] _plain;
    private readonly double[][] _raised;

    public Likeness(Standing best, Smoothing smoothing)
    {
        _best = best;
        _smoothing = smoothing;
        _plain = Lights(best, 1);
        _raised = Lights(best, best.Score.Gamma);
    }

    public bool IsSame(Standing other)
    {
        if (Math.Abs(other.Prediction!.Weighed - _best.Prediction!.Weighed) > _best.Prediction.Weighed / 50)
        {
            return false;
        }

        return AreSame(_plain, Lights(other, 1)) ||
            (other.Score.Gamma != _best.Score.Gamma && AreSame(_raised, Lights(other, other.Score.Gamma)));
    }

    private double[][] Lights(Standing standing, double gamma)
    {
        double[][] lights = [.. standing.Prediction!.Peak.Select((_, c) => standing.Light!.Raw(c, gamma, _smoothing))];
        foreach (double[] light in lights)
        {
            foreach ((int from, int to) in _best.Prediction!.Masked)
            {
                light.AsSpan(from, to - from).Clear();
            }

            Lanes.Centre(light);
        }

        return lights;
    }

    private static bool AreSame(double[][] first, double[][] second)
    {
        for (int c = 0; c < first.Length; c++)
        {
            double one = Lanes.Dot(first[c], first[c]);
            double two = Lanes.Dot(second[c], second[c]);
            bool dark = one < 1e-9 || two < 1e-9;
            if (dark ? (one < 1e-9) != (two < 1e-9) : Lanes.Dot(first[c], second[c]) < Same * Math.Sqrt(one * two))
            {
                return false;
            }
        }

        return true;
    }
}
