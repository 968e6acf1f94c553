namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Each delay compares the light with another stretch of the trace: up to 15 readings at its ends are left out, and not
/// the same ones. Without counting them, a wrong delay wins that happens to leave out what it cannot explain (measured:
/// neighbours in a chase, one step apart, were claimed for each other).
/// </summary>
internal static class WindowEnds
{
    /// <summary>Log-likelihood of the readings left out, against "nothing is known of them", nats.</summary>
    /// <param name="channel">The trace.</param>
    /// <param name="weighing">The samples that count.</param>
    /// <param name="spill">The strength of the others' light: what they most likely add counts as known.</param>
    /// <param name="delay">The delay.</param>
    /// <param name="ends">The light.</param>
    public static double Credit(ChannelEvidence channel, ChannelWeighing weighing, int spill, int delay, EndLight ends)
    {
        int samples = channel.Samples;
        double gain = 0;
        double total = Math.Max(channel.Total[delay] / samples, 1e-12);
        double rest = total;
        double[] amounts = [];
        if (spill == 0)
        {
            gain = ends.Squares <= 1e-9 ? 0 : Math.Max(0, Lanes.Dot(ends.Light, channel.Delayed[delay]) / ends.Squares);
            rest -= gain * gain * ends.Squares / samples;
        }
        else
        {
            double own = weighing.Square(spill, ends.Squares, ends.OnSpill);
            double along = weighing.WithTrace(spill, delay, ends.Light, ends.OnSpill);
            gain = own >= StepScorer.SmallestRest * ends.Squares && own > 1e-9 ? Math.Max(0, along / own) : 0;
            rest = (weighing.TraceSquares(spill, delay) - (gain * gain * own)) / weighing.Count;
            amounts = weighing.Amounts(spill, delay, gain, ends.OnSpill);
        }

        if (gain == 0 && spill == 0)
        {
            return 0;
        }

        rest = Math.Max(rest, 0) + (StepScorer.ModelError * StepScorer.ModelError * total);
        double before = Spilled(channel.Spill, amounts, 0, samples);
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
            if (ends.IsMasked(at))
            {
                continue;
            }

            double reading = channel.Trace[t] - channel.DelayedMean[delay];
            double left = reading - (gain * (ends.Whole[at] - ends.Mean)) - (at == 0 ? before : Spilled(channel.Spill, amounts, at, samples));
            credit += 0.5 * ((reading * reading / total) - (left * left / rest) + Math.Log(total / rest));
        }

        return credit;
    }

    /// <summary>The others' light at a sample of the window or behind it.</summary>
    private static double Spilled(SpillSpace space, double[] amounts, int at, int samples)
    {
        double sum = 0;
        for (int k = 0; k < amounts.Length; k++)
        {
            double[] behind = space.Beyond[k];
            sum += amounts[k] * (at < samples ? space.Vectors[k][at] : at - samples < behind.Length ? behind[at - samples] : 0);
        }

        return sum;
    }

    /// <summary>The delay and spill strength with the highest likelihood over all readings.</summary>
    /// <param name="channels">The trace.</param>
    /// <param name="weighing">The samples that count.</param>
    /// <param name="score">What was found without the ends.</param>
    /// <param name="ends">The light by channel.</param>
    public static Score Best(ChannelEvidence[] channels, Weighing weighing, Score score, EndLight[] ends)
    {
        const int Delays = ChannelEvidence.Delays;
        double[] likelihoods = new double[SpillStrength.All.Length * Delays];
        for (int c = 0; c < channels.Length; c++)
        {
            double[] onSpill = ends[c].OnSpill;
            double squares = ends[c].Squares;
            double[] owns = [.. Enumerable.Range(0, SpillStrength.All.Length).Select(s => weighing[c].Square(s, squares, onSpill))];
            for (int d = 0; d < Delays; d++)
            {
                double plain = Lanes.Dot(ends[c].Light, channels[c].Delayed[d]);
                double total = Math.Max(weighing[c].Total(d), 1e-12);
                for (int s = 0; s < SpillStrength.All.Length; s++)
                {
                    double own = owns[s];
                    double along = Math.Max(0, weighing[c].WithTrace(s, d, plain, onSpill));
                    bool explains = own >= StepScorer.SmallestRest * squares && own > 1e-9;
                    double rest = weighing[c].TraceSquares(s, d) - (explains ? along * along / own : 0);
                    likelihoods[(s * Delays) + d] += Credit(channels[c], weighing[c], s, d, ends[c]) + weighing[c].LogDeterminant(s) -
                        (0.5 * weighing.Count * Math.Log((Math.Max(0, rest) / total) + (StepScorer.ModelError * StepScorer.ModelError)));
                }
            }
        }

        int best = 0;
        for (int i = 0; i < likelihoods.Length; i++)
        {
            likelihoods[i] += SpillStrength.All[i / Delays].LogPrior;
            best = likelihoods[i] > likelihoods[best] ? i : best;
        }

        return score with { Delay = best % Delays, Spill = best / Delays };
    }
}
