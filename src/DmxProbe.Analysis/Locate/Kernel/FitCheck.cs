namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Asks whether the best light, with only positive amounts of the other units' light beside it, leaves structure over.
/// Used to refuse claims, never to rank: as a score it is worse than the marginal likelihood.
/// </summary>
internal static class FitCheck
{
    private const int Block = 15;
    private const double SpillMean = 0.05;

    /// <summary>Checks the fit.</summary>
    /// <param name="channels">The trace.</param>
    /// <param name="weighing">The samples that count.</param>
    /// <param name="delay">Delay of the hypothesis.</param>
    /// <param name="own">Its light in each channel, taken.</param>
    /// <param name="others">The other units' light by channel, centred.</param>
    public static FitFigures Of(ChannelEvidence[] channels, Weighing weighing, int delay, double[][] own, IReadOnlyList<double[]>[] others)
    {
        double left = 0, structured = 0, ownPart = 0, spillPart = 0, error = 0, margin = 0, blockSpread = 0, spread = 0;
        int blocks = 1;
        for (int c = 0; c < channels.Length; c++)
        {
            double[] trace = [.. channels[c].Delayed[delay]];
            weighing.Take(trace);
            double[][] columns = [own[c], .. others[c].Select(other => Taken(weighing, other))];
            double[] prices = new double[columns.Length];
            double price = channels[c].Noise / (SpillMean * channels[c].Deviation / 0.3);
            Array.Fill(prices, price, 1, columns.Length - 1);
            int size = Blocks.Size(trace.Length);
            PositiveLeastSquares solver = new([.. columns.Select(column => Blocks.Of(column, size))], Blocks.Of(trace, size), prices);
            double[] with = solver.Solve(0);
            double[] without = solver.Solve(1);
            double[] rest = Rest(trace, columns, with, 0);
            double[] spill = [.. columns[0].Select(_ => 0.0)];
            for (int i = 1; i < columns.Length; i++)
            {
                Lanes.AddScaled(spill, columns[i], with[i]);
            }

            double noise = channels[c].Noise / Block;
            double restBlocks = BlockSpread(weighing, rest, out blocks);
            double traceBlocks = BlockSpread(weighing, trace, out _);
            double ownSpread = with[0] * with[0] * Spread(weighing, columns[0]);
            left += restBlocks - noise;
            structured += traceBlocks - noise;
            error += noise * noise * 2 / blocks;
            ownPart += ownSpread;
            spillPart += Spread(weighing, spill);
            blockSpread += restBlocks;
            spread += Spread(weighing, rest);
            margin += Likelihood(weighing, trace, rest, with, prices, channels[c].Noise) -
                Likelihood(weighing, trace, Rest(trace, columns, without, 0), without, prices, channels[c].Noise);
        }

        structured = Math.Max(structured, 1e-12);
        return new FitFigures(
            left / structured,
            Math.Sqrt(error) / structured,
            ownPart / structured,
            spillPart / structured,
            margin,
            Math.Max(1, Block * blockSpread / Math.Max(spread, 1e-12)));
    }

    private static double[] Taken(Weighing weighing, double[] column)
    {
        if (weighing.Count == weighing.Samples)
        {
            return column;
        }

        double[] taken = [.. column];
        weighing.Take(taken);
        return taken;
    }

    private static double[] Rest(double[] trace, double[][] columns, double[] coefficients, int from)
    {
        double[] rest = [.. trace];
        for (int i = from; i < columns.Length; i++)
        {
            if (coefficients[i] != 0)
            {
                Lanes.AddScaled(rest, columns[i], -coefficients[i]);
            }
        }

        return rest;
    }

    private static double Likelihood(
        Weighing weighing, double[] trace, double[] rest, double[] coefficients, double[] prices, double noise)
    {
        double ratio = Lanes.Dot(rest, rest) / Math.Max(Lanes.Dot(trace, trace), 1e-12);
        double likelihood = -0.5 * weighing.Count * Math.Log(ratio + (StepScorer.ModelError * StepScorer.ModelError));
        for (int i = 0; i < coefficients.Length; i++)
        {
            likelihood -= coefficients[i] * prices[i] / noise;
        }

        return likelihood;
    }

    private static double Spread(Weighing weighing, double[] values) => Lanes.Dot(values, values) / Math.Max(weighing.Count, 1);

    /// <summary>Variance of the means of blocks of half a second that count throughout.</summary>
    private static double BlockSpread(Weighing weighing, double[] values, out int blocks)
    {
        double sum = 0;
        double squares = 0;
        blocks = 0;
        foreach ((int from, int to) in weighing.Kept)
        {
            for (int at = from; at + Block <= to; at += Block)
            {
                double mean = 0;
                for (int t = at; t < at + Block; t++)
                {
                    mean += values[t] / Block;
                }

                sum += mean;
                squares += mean * mean;
                blocks++;
            }
        }

        if (blocks == 0)
        {
            blocks = 1;
            return 0;
        }

        double centre = sum / blocks;
        return (squares / blocks) - (centre * centre);
    }
}
