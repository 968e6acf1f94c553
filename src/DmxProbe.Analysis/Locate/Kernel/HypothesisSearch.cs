namespace DmxProbe.Analysis.Locate;

/// <summary>Stages 1 and 2: from every hypothesis to the few that are worth the dear arithmetic.</summary>
internal sealed class HypothesisSearch(LocateContext context)
{
    private const int MaskedShare = 30; // per cent: a dense product costs ten times the steps
    private static readonly double[] FirstGammas = [0.5, 1, 2];
    private static readonly double[] SecondGammas = [LocateContext.FlattestResponse, 0.55, 0.75, 1, 1.35, 1.8, 2.4];
    private static readonly double[] FineFactors = [0.8, 0.9, 1, 1.12, 1.25];

    /// <summary>Every hypothesis that changes, at three exponents; those with gaps first without spill.</summary>
    public List<Standing> FirstStage()
    {
        StepScorer scorer = new(context.Channels);
        SpanScorer spans = new(context.Channels);
        PowerSteps steps = new(context.Window.Channels);
        Prediction prediction = new(context.Window.Channels);
        List<Standing> live = [];
        for (int h = 0; h < context.Histories; h++)
        {
            UniverseWindow universe = context.Window.Load(h);
            for (int m = 0; m < context.Readers.Length; m++)
            {
                for (int address = 1; address <= SlotHistory.SlotCount; address++)
                {
                    if (!context.Readers[m].Read(universe, address, context.Window.Samples, -1, prediction) || prediction.Count < 2 ||
                        prediction.Weighed < LocateInference.FewestSamples || prediction.Variance() < LocateInference.SmallestVariance)
                    {
                        continue;
                    }

                    bool masked = prediction.Masked.Count > 0;
                    Score best = Score.None;
                    steps.Load(prediction);
                    if (masked)
                    {
                        best = spans.Evaluate(prediction, steps, FirstGammas, context.Smooth(LocateContext.UsualTau));
                    }
                    else
                    {
                        foreach (double gamma in FirstGammas)
                        {
                            Score score = scorer.Evaluate(steps, gamma, context.Smooth(LocateContext.UsualTau));
                            best = score.LogLikelihood > best.LogLikelihood ? score : best;
                        }
                    }

                    live.Add(new Standing(new Hypothesis(h, address, m), best, masked));
                }
            }
        }

        return live;
    }

    /// <summary>More exponents for the best of stage 1, then exponent and lag for the best of those.</summary>
    public List<Standing> SecondStage(List<Standing> standings)
    {
        int keep = context.Readers.Length > 1 ? 320 : 160;
        List<Standing> kept =
        [
            .. standings.Where(standing => !standing.IsMasked).OrderByDescending(standing => standing.LogLikelihood).Take(keep),
            .. standings.Where(standing => standing.IsMasked).OrderByDescending(standing => standing.LogLikelihood).Take(keep * MaskedShare / 100),
        ];
        StepScorer scorer = new(context.Channels);
        PowerSteps steps = new(context.Window.Channels);
        foreach (Standing standing in kept.OrderBy(standing => standing.Hypothesis.History))
        {
            context.Load(standing);
            Refine(standing, scorer, steps, SecondGammas, [LocateContext.UsualTau]);
        }

        foreach (Standing standing in kept.OrderByDescending(standing => standing.LogLikelihood).Take(30))
        {
            double gamma = standing.Score.Gamma;
            double[] gammas = [.. FineFactors.Select(factor => Math.Clamp(factor * gamma, LocateContext.FlattestResponse, LocateContext.SteepestResponse)).Distinct()];
            Refine(standing, scorer, steps, gammas, LocateContext.Taus);
        }

        return kept;
    }

    private void Refine(Standing standing, StepScorer scorer, PowerSteps steps, double[] gammas, double[] taus)
    {
        Score best = Score.None;
        if (standing.IsMasked)
        {
            foreach (double tau in taus)
            {
                Score score = Dense(standing.Light!, standing.Weighing!, gammas, ChannelEvidence.SpillScales.Length, tau);
                best = score.LogLikelihood > best.LogLikelihood ? score : best;
            }
        }
        else
        {
            steps.Load(standing.Prediction!);
            foreach (double tau in taus)
            {
                foreach (double gamma in gammas)
                {
                    Score score = scorer.Evaluate(steps, gamma, context.Smooth(tau));
                    best = score.LogLikelihood > best.LogLikelihood ? score : best;
                }
            }
        }

        standing.Score = best;
        standing.LogLikelihood = best.LogLikelihood;
    }

    private Score Dense(HypothesisLight light, Weighing weighing, double[] gammas, int scales, double tau)
    {
        Score best = Score.None;
        double[][] series = new double[context.Window.Channels][];
        foreach (double gamma in gammas)
        {
            for (int c = 0; c < series.Length; c++)
            {
                series[c] = light.Raw(c, gamma, context.Smooth(tau));
                weighing.Take(series[c]);
            }

            Score score = weighing.Evaluate(series, gamma, tau, scales);
            best = score.LogLikelihood > best.LogLikelihood ? score : best;
        }

        return best;
    }
}
