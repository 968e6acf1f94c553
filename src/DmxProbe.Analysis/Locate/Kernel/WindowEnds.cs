namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Each delay compares the light with another stretch of the trace: up to 15 readings at its ends are left out, and not
/// the same ones. Without counting them, a wrong delay wins that happens to leave out what it cannot explain (measured:
/// neighbours in a chase, one step apart, were claimed for each other).
/// </summary>
internal static class WindowEnds
{
    /// <summary>Log-likelihood of the readings left out, against "no own light", nats.</summary>
    /// <param name="channel">The trace.</param>
    /// <param name="delay">The delay.</param>
    /// <param name="raw">The lagging light, 15 samples longer than the window.</param>
    /// <param name="light">The same over the window, taken.</param>
    /// <param name="masked">Where it is not predictable.</param>
    public static double Credit(ChannelEvidence channel, int delay, double[] raw, double[] light, IReadOnlyList<(int From, int To)> masked)
    {
        int samples = channel.Samples;
        double squares = Lanes.Dot(light, light);
        if (squares <= 1e-9)
        {
            return 0;
        }

        double gain = Math.Max(0, Lanes.Dot(light, channel.Delayed[delay]) / squares);
        double total = Math.Max(channel.Total[delay] / samples, 1e-12);
        double rest = total - (gain * gain * squares / samples);
        rest = Math.Max(rest, 0) + (StepScorer.ModelError * StepScorer.ModelError * total);
        double mean = 0;
        for (int t = 0; t < samples; t++)
        {
            mean += raw[t] - light[t];
        }

        // Where a gap is masked the taken light is 0: the mean is that of the samples that count.
        mean = MeanOf(raw, light, mean / samples, masked, samples);
        double credit = 0;
        for (int t = 0; t < channel.Trace.Length; t++)
        {
            if (t == delay)
            {
                t += samples;
                if (t >= channel.Trace.Length)
                {
                    break;
                }
            }

            int at = Math.Max(t - delay, 0);
            if (masked.Any(span => span.From <= at && at < span.To))
            {
                continue;
            }

            double reading = channel.Trace[t] - channel.DelayedMean[delay];
            double left = reading - (gain * (raw[at] - mean));
            credit += 0.5 * ((reading * reading / total) - (left * left / rest) + Math.Log(total / rest));
        }

        return credit;
    }

    /// <summary>The delay and spill strength with the highest likelihood over all readings.</summary>
    /// <param name="channels">The trace.</param>
    /// <param name="weighing">The samples that count.</param>
    /// <param name="score">What was found without the ends.</param>
    /// <param name="whole">The lagging light by channel, 15 samples longer than the window.</param>
    /// <param name="light">The same over the window, taken.</param>
    /// <param name="masked">Where it is not predictable.</param>
    public static Score Best(
        ChannelEvidence[] channels, Weighing weighing, Score score, double[][] whole, double[][] light, IReadOnlyList<(int From, int To)> masked)
    {
        const int Delays = ChannelEvidence.Delays;
        double[] likelihoods = new double[ChannelEvidence.SpillScales.Length * Delays];
        for (int c = 0; c < channels.Length; c++)
        {
            double[] onSpill = weighing[c].OnSpill(light[c]);
            double squares = Lanes.Dot(light[c], light[c]);
            double[] owns = [.. Enumerable.Range(0, ChannelEvidence.SpillScales.Length).Select(s => weighing[c].Square(s, squares, onSpill))];
            for (int d = 0; d < Delays; d++)
            {
                double credit = Credit(channels[c], d, whole[c], light[c], masked);
                double plain = Lanes.Dot(light[c], channels[c].Delayed[d]);
                double total = Math.Max(weighing[c].Total(d), 1e-12);
                for (int s = 0; s < ChannelEvidence.SpillScales.Length; s++)
                {
                    double own = owns[s];
                    double along = Math.Max(0, weighing[c].WithTrace(s, d, plain, onSpill));
                    bool explains = own >= StepScorer.SmallestRest * squares && own > 1e-9;
                    double rest = weighing[c].TraceSquares(s, d) - (explains ? along * along / own : 0);
                    likelihoods[(s * Delays) + d] += credit + weighing[c].LogDeterminant(s) - (0.5 * weighing.Count *
                        Math.Log((Math.Max(0, rest) / total) + (StepScorer.ModelError * StepScorer.ModelError)));
                }
            }
        }

        int best = 0;
        for (int i = 0; i < likelihoods.Length; i++)
        {
            likelihoods[i] += ChannelEvidence.SpillLogPrior[i / Delays];
            best = likelihoods[i] > likelihoods[best] ? i : best;
        }

        return score with { Delay = best % Delays, Spill = best / Delays };
    }

    private static double MeanOf(double[] raw, double[] light, double whole, IReadOnlyList<(int From, int To)> masked, int samples)
    {
        if (masked.Count == 0)
        {
            return whole;
        }

        for (int t = 0; t < samples; t++)
        {
            if (light[t] != 0)
            {
                return raw[t] - light[t];
            }
        }

        return whole;
    }
}
