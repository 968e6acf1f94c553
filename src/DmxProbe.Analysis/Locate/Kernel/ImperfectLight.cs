namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Allows for a light model that is only nearly right: emitters some 25 % stronger or weaker than the chart makes them,
/// and an exposure that drifts by a few per cent. Both are columns beside the light with a small Gaussian prior.
/// </summary>
internal static class ImperfectLight
{
    private const double EmitterError = 0.25;
    private const double DriftError = 0.06;
    private const int DriftWaves = 3;

    /// <summary>Log-likelihood of a channel, without the determinant of the spill, and the light as fitted.</summary>
    /// <param name="weighing">The samples that count.</param>
    /// <param name="channel">Which channel.</param>
    /// <param name="evidence">That channel.</param>
    /// <param name="score">Exponent, lag, delay and spill strength of the hypothesis.</param>
    /// <param name="raw">The lagging light.</param>
    /// <param name="light">The same, taken.</param>
    /// <param name="emitters">What a stronger emitter would add, taken; may be none.</param>
    public static ImperfectFit Of(
        Weighing weighing,
        int channel,
        ChannelEvidence evidence,
        Score score,
        double[] raw,
        double[] light,
        IReadOnlyList<double[]> emitters)
    {
        ChannelWeighing weighed = weighing[channel];
        double total = Math.Max(weighed.Total(score.Delay), 1e-12);
        double trace = weighed.TraceSquares(score.Spill, score.Delay);
        double floor = StepScorer.ModelError * StepScorer.ModelError;
        double[] onSpill = weighed.OnSpill(light);
        double squares = Lanes.Dot(light, light);
        double own = weighed.Product(score.Spill, squares, onSpill, onSpill);
        double along = weighed.WithTrace(score.Spill, score.Delay, light, onSpill);
        if (along <= 0 || own < StepScorer.SmallestRest * squares || own <= 1e-9)
        {
            double none = -0.5 * weighing.Count * Math.Log((Math.Max(trace, 0) / total) + floor);
            return new ImperfectFit(none, none, light);
        }

        double gain = along / own;
        double noise = evidence.Noise + (floor * total / weighing.Count);
        List<double[]> columns = [.. emitters];
        List<double> priors = [.. emitters.Select(_ => EmitterError * gain)];
        for (int wave = 1; wave <= DriftWaves; wave++)
        {
            columns.Add(Drift(weighing, raw, wave));
            priors.Add(DriftError * gain);
        }

        int count = columns.Count;
        double[][] place = [.. columns.Select(column => weighed.OnSpill(column))];
        double[] withLight = new double[count];
        double[] right = new double[count];
        double[,] moment = new double[count, count];
        for (int i = 0; i < count; i++)
        {
            withLight[i] = weighed.Product(score.Spill, Lanes.Dot(columns[i], light), place[i], onSpill);
            right[i] = (weighed.WithTrace(score.Spill, score.Delay, columns[i], place[i]) - (withLight[i] * gain)) * priors[i] / noise;
            for (int j = 0; j <= i; j++)
            {
                double product = weighed.Product(score.Spill, Lanes.Dot(columns[i], columns[j]), place[i], place[j]) -
                    (withLight[i] * withLight[j] / own);
                moment[i, j] = moment[j, i] = (product * priors[i] * priors[j] / noise) + (i == j ? 1 : 0);
            }
        }

        Cholesky factor = new(moment);
        double[] solved = [.. right];
        factor.Solve(solved);
        double rest = trace - (along * gain);
        double perfect = -0.5 * weighing.Count * Math.Log((Math.Max(rest, 0) / total) + floor);
        double[] fitted = new double[light.Length];
        double lightGain = gain;
        for (int i = 0; i < count; i++)
        {
            rest -= right[i] * solved[i] * noise;
            double coefficient = solved[i] * priors[i];
            lightGain -= coefficient * withLight[i] / own;
            Lanes.AddScaled(fitted, columns[i], coefficient);
        }

        Lanes.AddScaled(fitted, light, lightGain);
        double likelihood = (-0.5 * weighing.Count * Math.Log((Math.Max(rest, 0) / total) + floor)) - (0.5 * factor.LogDeterminant);
        return new ImperfectFit(likelihood, perfect, fitted);
    }

    private static double[] Drift(Weighing weighing, double[] raw, int wave)
    {
        double[] column = new double[raw.Length];
        for (int t = 0; t < column.Length; t++)
        {
            column[t] = raw[t] * Math.Cos(Math.PI * wave * t / column.Length);
        }

        weighing.Take(column);
        return column;
    }
}
