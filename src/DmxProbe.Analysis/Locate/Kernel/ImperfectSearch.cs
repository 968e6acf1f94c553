namespace DmxProbe.Analysis.Locate;

/// <summary>Works out the imperfect light model for the best hypotheses, with the ends of the window counted.</summary>
internal sealed class ImperfectSearch(LocateContext context)
{
    private const int Best = 60;
    private const int Improved = 20;
    private const double NearNats = 200;
    private const double FineStep = 1.25;
    private const double PerfectShare = 0.3;
    private const double ResponseSpread = 0.6;
    private Weighing? _unmasked;

    /// <summary>The imperfect light model for the best; returns the best after it.</summary>
    public Standing Run(List<Standing> kept)
    {
        List<Standing> top = [.. kept.OrderByDescending(standing => standing.LogLikelihood).Take(Best)];
        IGrouping<int, Standing>[] together = [.. top.GroupBy(standing => standing.Hypothesis.History)];
        Parallel.For(0, together.Length, () => new ImperfectSearch(context.ForAnotherThread()), (g, _, own) =>
        {
            foreach (Standing standing in together[g])
            {
                own.Prepare(standing);
            }

            return own;
        }, _ => { });

        // Exponent and lag were found under the exact light model: where that fits badly they are sought again.
        double within = top.Max(standing => standing.LogLikelihood) - NearNats;
        foreach (Standing standing in top.OrderByDescending(standing => standing.LogLikelihood).Take(Improved).OrderBy(standing => standing.Hypothesis.History))
        {
            if (standing.Imperfection >= LocateRule.Imperfect && standing.LogLikelihood >= within)
            {
                Improve(standing);
            }
        }

        return top.MaxBy(standing => standing.LogLikelihood)!;
    }

    /// <summary>Works one out, once.</summary>
    public void Prepare(Standing standing)
    {
        if (standing.Fitted is not null)
        {
            return;
        }

        if (standing.Light is null)
        {
            context.Load(standing);
        }

        standing.Weighing ??= _unmasked ??= new Weighing(context.Channels, standing.Prediction!);
        standing.Light = new HypothesisLight(standing.Prediction!, context.Emitters(standing));
        Try(standing, standing.Score);
    }

    /// <summary>Moves to a neighbouring exponent or lag as long as that helps.</summary>
    private void Improve(Standing standing)
    {
        for (int round = 0; round < 3; round++)
        {
            Score score = standing.Score;
            int tau = Math.Max(Array.IndexOf(LocateContext.Taus, score.Tau), 0);
            double before = standing.LogLikelihood;
            Try(standing, score with { Gamma = Math.Max(score.Gamma / FineStep, LocateContext.FlattestResponse) });
            Try(standing, score with { Gamma = Math.Min(score.Gamma * FineStep, LocateContext.SteepestResponse) });
            Try(standing, score with { Tau = LocateContext.Taus[Math.Max(tau - 1, 0)] });
            Try(standing, score with { Tau = LocateContext.Taus[Math.Min(tau + 1, LocateContext.Taus.Length - 1)] });
            if (standing.LogLikelihood < before + 0.5)
            {
                break;
            }
        }
    }

    /// <summary>Works out the imperfect light model for an exponent and a lag, and keeps it if it is the first or better.</summary>
    private void Try(Standing standing, Score score)
    {
        if (standing.Fitted is not null && score == standing.Score)
        {
            return;
        }

        Smoothing smoothing = context.Smooth(score.Tau);
        Prediction reach = new(context.Window.Channels);
        context.Readers[standing.Hypothesis.Mode].Read(
            context.Window.Load(standing.Hypothesis.History), standing.Hypothesis.Address, context.LongerWindow, -1, reach);
        standing.Prediction!.Peak.CopyTo(reach.Peak, 0);
        HypothesisLight longer = new(reach, []);
        double[][] raw = new double[context.Window.Channels][];
        double[][] light = new double[context.Window.Channels][];
        double[][] whole = new double[context.Window.Channels][];
        for (int c = 0; c < raw.Length; c++)
        {
            whole[c] = longer.Raw(c, score.Gamma, smoothing);
            raw[c] = whole[c][..context.Window.Samples];
            light[c] = [.. raw[c]];
            standing.Weighing!.Take(light[c]);
        }

        EndLight[] ends = [.. raw.Select((_, c) => new EndLight(standing.Weighing!, c, whole[c], light[c], reach.Masked))];
        score = WindowEnds.Best(context.Channels, standing.Weighing!, score, ends);
        ImperfectLight[] imperfect = new ImperfectLight[raw.Length];
        for (int c = 0; c < raw.Length; c++)
        {
            imperfect[c] = new ImperfectLight(
                standing.Weighing!, c, context.Channels[c], score.Delay, raw[c], light[c], standing.Light!.Errors(c, score.Gamma, smoothing));
        }

        // The strength of spill is chosen again: an imperfect light must not pass for the others' light.
        double most = double.NegativeInfinity;
        ImperfectFit[] chosen = [];
        for (int s = 0; s < SpillStrength.All.Length; s++)
        {
            ImperfectFit[] fits = [.. imperfect.Select(channel => channel.Of(s))];
            double atEnds = ends.Select((end, c) => WindowEnds.Credit(context.Channels[c], standing.Weighing![c], s, score.Delay, end)).Sum();
            double likelihood = SpillStrength.All[s].LogPrior + Averaged(fits) + atEnds;
            if (likelihood > most)
            {
                (most, chosen, score) = (likelihood, fits, score with { Spill = s });
            }
        }

        double total = ResponsePrior(score.Gamma) + most;
        if (standing.Fitted is null || total > standing.LogLikelihood)
        {
            standing.LogLikelihood = total;
            standing.Score = score;
            standing.Imperfection = chosen.Sum(fit => fit.LogLikelihood - fit.Perfect);
            standing.Fitted = [.. imperfect.Select((channel, c) => channel.Fitted(chosen[c]))];
        }
    }

    /// <summary>Whether the light model is perfect is not known: the likelihoods are averaged, not chosen between.</summary>
    private static double Averaged(ImperfectFit[] fits)
    {
        double perfect = fits.Sum(fit => fit.Perfect);
        double imperfect = fits.Sum(fit => fit.LogLikelihood);
        double top = Math.Max(perfect, imperfect);
        return top + Math.Log((PerfectShare * Math.Exp(perfect - top)) + ((1 - PerfectShare) * Math.Exp(imperfect - top)));
    }

    /// <summary>Responses far from a straight line are rarer: Gaussian in the logarithm of the exponent.</summary>
    private static double ResponsePrior(double gamma)
    {
        double logarithm = Math.Log(gamma) / ResponseSpread;
        return -0.5 * logarithm * logarithm;
    }
}
