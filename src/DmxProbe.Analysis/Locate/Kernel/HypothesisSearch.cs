namespace DmxProbe.Analysis.Locate;

/// <summary>Stages 1 and 2: from every hypothesis to the few that are worth the dear arithmetic.</summary>
internal sealed class HypothesisSearch(LocateContext context)
{
    private const int MaskedShare = 30; // per cent: a dense product costs ten times the steps

    // Where so many score alike, more are kept: the truths of rough rigs that 160 lost lay within 4 nats of the last one kept.
    private const double CloseNats = 5;
    private const int MostClose = 4;
    private static readonly double[] FirstGammas = [0.5, 1, 2];
    private static readonly double[] SecondGammas = [LocateContext.FlattestResponse, 0.55, 0.75, 1, 1.35, 1.8, 2.4];
    private static readonly double[] FineFactors = [0.8, 0.9, 1, 1.12, 1.25];

    /// <summary>Every hypothesis that changes, at three exponents; those with gaps first without spill.</summary>
    public List<Standing> FirstStage()
    {
        List<Standing>[] live = new List<Standing>[context.Histories];
        Parallel.For(0, live.Length, () => new Worker(context.ForAnotherThread()), (h, _, worker) =>
        {
            live[h] = worker.Score(h);
            return worker;
        }, _ => { });
        return [.. live.SelectMany(each => each)];
    }

    /// <summary>More exponents for the best of stage 1, then exponent and lag for the best of those.</summary>
    public List<Standing> SecondStage(List<Standing> standings)
    {
        List<Standing> kept = Kept(standings);
        IGrouping<int, Standing>[] together = [.. kept.GroupBy(standing => standing.Hypothesis.History)];
        Parallel.For(0, together.Length, () => new Worker(context.ForAnotherThread()), (g, _, worker) =>
        {
            foreach (Standing standing in together[g])
            {
                worker.Context.Load(standing);
                worker.Refine(standing, SecondGammas, [LocateContext.UsualTau]);
            }

            return worker;
        }, _ => { });
        Standing[] best = [.. kept.OrderByDescending(standing => standing.LogLikelihood).Take(30)];
        Parallel.For(0, best.Length, () => new Worker(context.ForAnotherThread()), (i, _, worker) =>
        {
            double gamma = best[i].Score.Gamma;
            double[] gammas = [.. FineFactors.Select(factor => Math.Clamp(factor * gamma, LocateContext.FlattestResponse, LocateContext.SteepestResponse)).Distinct()];
            worker.Refine(best[i], gammas, LocateContext.Taus);
            return worker;
        }, _ => { });
        return kept;
    }

    /// <summary>The prefilter: those of stage 1 that are worth more.</summary>
    public List<Standing> Kept(List<Standing> standings)
    {
        int keep = context.Readers.Length > 1 ? 320 : 160;
        return
        [
            .. WithClose([.. standings.Where(standing => !standing.IsMasked).OrderByDescending(standing => standing.LogLikelihood)], keep),
            .. standings.Where(standing => standing.IsMasked).OrderByDescending(standing => standing.LogLikelihood).Take(keep * MaskedShare / 100),
        ];
    }

    /// <summary>The first, and behind them those that score nearly as well as the last of them.</summary>
    private static IEnumerable<Standing> WithClose(Standing[] ranked, int keep) => ranked.Length <= keep
        ? ranked
        : ranked.Take(MostClose * keep).TakeWhile((standing, i) => i < keep || standing.LogLikelihood >= ranked[keep - 1].LogLikelihood - CloseNats);

    /// <summary>What one thread needs for itself.</summary>
    private sealed class Worker(LocateContext context)
    {
        private readonly StepScorer _scorer = new(context.Channels);
        private readonly SpanScorer _spans = new(context.Channels);
        private readonly PowerSteps _steps = new(context.Window.Channels);
        private readonly Prediction _prediction = new(context.Window.Channels);

        public LocateContext Context => context;

        /// <summary>All addresses of one history in all modes.</summary>
        public List<Standing> Score(int history)
        {
            List<Standing> live = [];
            UniverseWindow universe = context.Window.Load(history);
            for (int m = 0; m < context.Readers.Length; m++)
            {
                for (int address = 1; address <= SlotHistory.SlotCount; address++)
                {
                    if (!context.Readers[m].Read(universe, address, context.Window.Samples, -1, _prediction) || _prediction.Count < 2 ||
                        _prediction.Weighed < LocateInference.FewestSamples || _prediction.Variance() < LocateInference.SmallestVariance)
                    {
                        continue;
                    }

                    bool masked = _prediction.Masked.Count > 0;
                    Score best = Analysis.Locate.Score.None;
                    _steps.Load(_prediction);
                    if (masked)
                    {
                        best = _spans.Evaluate(_prediction, _steps, FirstGammas, context.Smooth(LocateContext.UsualTau));
                    }
                    else
                    {
                        foreach (double gamma in FirstGammas)
                        {
                            Score score = _scorer.Evaluate(_steps, gamma, context.Smooth(LocateContext.UsualTau));
                            best = score.LogLikelihood > best.LogLikelihood ? score : best;
                        }
                    }

                    live.Add(new Standing(new Hypothesis(history, address, m), best, masked));
                }
            }

            return live;
        }

        public void Refine(Standing standing, double[] gammas, double[] taus)
        {
            Score best = Analysis.Locate.Score.None;
            if (standing.IsMasked)
            {
                foreach (double tau in taus)
                {
                    Score score = Dense(standing.Light!, standing.Weighing!, gammas, SpillStrength.All.Length, tau);
                    best = score.LogLikelihood > best.LogLikelihood ? score : best;
                }
            }
            else
            {
                _steps.Load(standing.Prediction!);
                foreach (double tau in taus)
                {
                    foreach (double gamma in gammas)
                    {
                        Score score = _scorer.Evaluate(_steps, gamma, context.Smooth(tau));
                        best = score.LogLikelihood > best.LogLikelihood ? score : best;
                    }
                }
            }

            standing.Score = best;
            standing.LogLikelihood = best.LogLikelihood;
        }

        private Score Dense(HypothesisLight light, Weighing weighing, double[] gammas, int scales, double tau)
        {
            Score best = Analysis.Locate.Score.None;
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
}
