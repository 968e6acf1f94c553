
namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Finds out what a light is really reading, from what was captured and how bright it was: every universe, start address
/// and open mode, weighed by the likelihood of the light model's prediction. docs/locating.md has the method and its
/// measured limits.
/// </summary>
public sealed class LocateInference
{
    /// <summary>Fewest samples of 1/30 s that a trace must share with the capture: five seconds.</summary>
    public const int FewestSamples = 150;

    /// <summary>Predictions below this variance (full = 1) count as constant.</summary>
    internal const double SmallestVariance = 2e-5;

    private const double UsualTau = 2.5;
    private const double SteepestResponse = 2.5;
    private const double NearNats = 200;
    private const double FineStep = 1.25;
    private const double PerfectShare = 0.3;
    private const double ResponseSpread = 0.6;
    private const int MaskedShare = 30; // per cent: a dense product costs ten times the steps
    private const double SetShare = 0.999;
    private const int LargestSet = 6;
    private static readonly double[] FirstGammas = [0.5, 1, 2];
    private static readonly double[] SecondGammas = [0.4, 0.55, 0.75, 1, 1.35, 1.8, 2.4];
    private static readonly double[] FineFactors = [0.8, 0.9, 1, 1.12, 1.25];
    private static readonly double[] FineTaus = [1, 2.5, 5, 9];

    private readonly LocateQuestion _question;
    private readonly LocateWindow _window;
    private readonly TraceGrid _trace;
    private readonly LightReader[] _readers;
    private readonly Dictionary<double, Smoothing> _smoothings = [];
    private readonly List<double[]>[] _others;
    private readonly ChannelEvidence[] _channels;
    private Weighing? _unmasked;

    private LocateInference(LocateQuestion question, TraceGrid trace)
    {
        _question = question;
        _trace = trace;
        _window = new LocateWindow(question.Histories, trace);
        _readers = [.. question.Modes.Select(mode => new LightReader(mode))];
        _others = _window.Others(question.Others, Smooth(UsualTau));
        _channels = [.. trace.Channels.Select((channel, c) => new ChannelEvidence(channel, _window.Samples, SpillSpace.Of(_others[c])))];
    }

    /// <summary>Runs the inference.</summary>
    /// <param name="question">What was captured and measured.</param>
    /// <returns>What may be said; the same question always gives the same result.</returns>
    /// <exception cref="ArgumentException">The trace shares fewer than <see cref="FewestSamples"/> samples with the capture
    /// (<see cref="Overlap"/> tells beforehand), or nothing was captured or no mode is open.</exception>
    public static LocateResult Run(LocateQuestion question)
    {
        ArgumentNullException.ThrowIfNull(question);
        if (question.Histories.Count == 0 || question.Modes.Count == 0)
        {
            throw new ArgumentException("locating needs a history and a mode", nameof(question));
        }

        TraceGrid trace = question.Trace.ToGrid(question.Histories[0].Start, question.Histories.Max(history => history.Samples));
        return trace.Count < FewestSamples
            ? throw new ArgumentException("the trace and the capture share too little time", nameof(question))
            : new LocateInference(question, trace).Locate();
    }

    /// <summary>How many samples of 1/30 s a trace shares with the histories.</summary>
    public static int Overlap(IReadOnlyList<SlotHistory> histories, LightTrace trace)
    {
        ArgumentNullException.ThrowIfNull(histories);
        ArgumentNullException.ThrowIfNull(trace);
        return histories.Count == 0 ? 0 : trace.ToGrid(histories[0].Start, histories.Max(history => history.Samples)).Count;
    }

    private LocateResult Locate()
    {
        List<Standing> standings = FirstStage();
        int moves = TraceMoves.Count(_trace.Channels, _channels);
        if (standings.Count == 0)
        {
            LocateClaim nothing = moves >= TraceMoves.Enough ? LocateClaim.NothingExplains : LocateClaim.NotEnough;
            return new LocateResult(nothing, false, null, null, [], 0, [], null, 0);
        }

        List<Standing> kept = SecondStage(standings);
        Standing leader = Imperfect(kept);
        FitFigures figures = FitCheck.Of(_channels, leader.Weighing!, leader.Score.Delay, leader.Fitted!, _others);
        int everything = _question.Histories.Count * SlotHistory.SlotCount * _question.Modes.Count;
        Posteriors.Set(standings, _question.Prior, everything, figures.Correlated);
        List<Standing> ranked = [.. standings.OrderByDescending(standing => standing.Posterior)];
        Standing best = ranked[0];
        if (best != leader)
        {
            // The prior put another one first: its own fit counts.
            Prepare(best);
            figures = FitCheck.Of(_channels, best.Weighing!, best.Score.Delay, best.Fitted!, _others);
        }

        LocateFit fit = Fit(best, figures, moves);
        return Judge(ranked, best, fit, standings.Count);
    }

    private static LocateFit Fit(Standing best, FitFigures figures, int moves) => new(
        best.Score.Delay / (double)SlotHistory.RatePerSecond,
        best.Score.Gamma,
        best.Score.Tau,
        figures.Unexplained,
        figures.UnexplainedError,
        figures.Own,
        figures.Spill,
        figures.Margin,
        ChannelEvidence.SpillScales[best.Score.Spill],
        best.Imperfection,
        best.Light!.Moves(),
        moves,
        best.Weighing!.Count);

    private LocateResult Judge(List<Standing> ranked, Standing best, LocateFit fit, int live)
    {
        Likeness likeness = new(best, Smooth(UsualTau));
        List<Standing> members = [best];
        Standing? runnerUp = null;
        foreach (Standing other in ranked.Skip(1))
        {
            if (other.Light is not null && likeness.IsSame(other))
            {
                members.Add(other);
            }
            else
            {
                runnerUp ??= other;
            }
        }

        double score = members.Sum(member => member.Posterior);
        List<Standing> set = [];
        double held = 0;
        for (int i = 0; i < ranked.Count && held < SetShare && set.Count <= LargestSet; i++)
        {
            set.Add(ranked[i]);
            held += ranked[i].Posterior;
        }

        fit = runnerUp is null ? fit : fit with { Lead = best.LogLikelihood - runnerUp.LogLikelihood };
        bool fits = LocateRule.Normal.AllowsFit(fit);
        LocateClaim claim =
            fits && LocateRule.Normal.AllowsPosterior(score, fit, live) ? members.Count > 1 ? LocateClaim.Class : LocateClaim.Found
            : fits && held >= SetShare && set.Count <= LargestSet ? LocateClaim.OneOf
            : TraceMoves.NothingExplains(fit) ? LocateClaim.NothingExplains
            : LocateClaim.NotEnough;
        bool strict = claim is LocateClaim.Found or LocateClaim.Class && LocateRule.Strict.AllowsFit(fit) &&
            LocateRule.Strict.AllowsPosterior(score, fit, live);
        return new LocateResult(
            claim,
            strict,
            Candidate(best),
            runnerUp is null ? null : Candidate(runnerUp),
            [.. members.Select(Candidate)],
            score,
            held >= SetShare && set.Count <= LargestSet ? [.. set.Select(Candidate)] : [],
            fit,
            live);
    }

    private LocateCandidate Candidate(Standing standing)
    {
        SlotHistory history = _question.Histories[standing.Hypothesis.History];
        PriorCandidate? error = _question.Prior
            .Where(candidate => candidate.Hypothesis == standing.Hypothesis)
            .MaxBy(candidate => candidate.Weight);
        return new LocateCandidate(
            standing.Hypothesis,
            history.Universe,
            history.Sender,
            _question.Modes[standing.Hypothesis.Mode].Name,
            Math.Min(standing.Posterior, 0.995),
            standing.LogLikelihood,
            error?.Error ?? "");
    }

    /// <summary>Every hypothesis that changes, at three exponents; those with gaps first without spill.</summary>
    private List<Standing> FirstStage()
    {
        StepScorer scorer = new(_channels);
        SpanScorer spans = new(_channels);
        PowerSteps steps = new(_window.Channels);
        Prediction prediction = new(_window.Channels);
        List<Standing> live = [];
        for (int h = 0; h < _question.Histories.Count; h++)
        {
            UniverseWindow universe = _window.Load(h);
            for (int m = 0; m < _readers.Length; m++)
            {
                for (int address = 1; address <= SlotHistory.SlotCount; address++)
                {
                    if (!_readers[m].Read(universe, address, _window.Samples, -1, prediction) || prediction.Count < 2 ||
                        prediction.Weighed < FewestSamples || prediction.Variance() < SmallestVariance)
                    {
                        continue;
                    }

                    bool masked = prediction.Masked.Count > 0;
                    Score best = Score.None;
                    steps.Load(prediction);
                    if (masked)
                    {
                        best = spans.Evaluate(prediction, steps, FirstGammas, Smooth(UsualTau));
                    }
                    else
                    {
                        foreach (double gamma in FirstGammas)
                        {
                            Score score = scorer.Evaluate(steps, gamma, Smooth(UsualTau));
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
    private List<Standing> SecondStage(List<Standing> standings)
    {
        int keep = _question.Modes.Count > 1 ? 320 : 160;
        List<Standing> kept =
        [
            .. standings.Where(standing => !standing.IsMasked).OrderByDescending(standing => standing.LogLikelihood).Take(keep),
            .. standings.Where(standing => standing.IsMasked).OrderByDescending(standing => standing.LogLikelihood).Take(keep * MaskedShare / 100),
        ];
        StepScorer scorer = new(_channels);
        PowerSteps steps = new(_window.Channels);
        foreach (Standing standing in kept.OrderBy(standing => standing.Hypothesis.History))
        {
            Load(standing);
            Refine(standing, scorer, steps, SecondGammas, [UsualTau]);
        }

        foreach (Standing standing in kept.OrderByDescending(standing => standing.LogLikelihood).Take(30))
        {
            double gamma = standing.Score.Gamma;
            double[] gammas = [.. FineFactors.Select(factor => Math.Clamp(factor * gamma, SecondGammas[0], SteepestResponse)).Distinct()];
            Refine(standing, scorer, steps, gammas, FineTaus);
        }

        return kept;
    }

    private void Load(Standing standing)
    {
        LightReader reader = _readers[standing.Hypothesis.Mode];
        UniverseWindow universe = _window.Load(standing.Hypothesis.History);
        standing.Prediction = new Prediction(_window.Channels);
        reader.Read(universe, standing.Hypothesis.Address, _window.Samples, -1, standing.Prediction);
        standing.Light = new HypothesisLight(standing.Prediction, []);
        standing.Weighing = standing.IsMasked ? new Weighing(_channels, standing.Prediction) : null;
    }

    private List<Prediction> Emitters(Standing standing)
    {
        LightReader reader = _readers[standing.Hypothesis.Mode];
        UniverseWindow universe = _window.Load(standing.Hypothesis.History);
        List<Prediction> emitters = [];
        for (int e = 0; e < reader.EmitterCount && reader.EmitterCount > 1; e++)
        {
            Prediction emitter = new(_window.Channels);
            reader.Read(universe, standing.Hypothesis.Address, _window.Samples, e, emitter);
            emitters.Add(emitter);
        }

        return emitters;
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
                    Score score = scorer.Evaluate(steps, gamma, Smooth(tau));
                    best = score.LogLikelihood > best.LogLikelihood ? score : best;
                }
            }
        }

        standing.Score = best;
        standing.LogLikelihood = best.LogLikelihood;
    }

    private Score Dense(HypothesisLight light, Weighing weighing, double[] gammas, int scales, double tau = UsualTau)
    {
        Score best = Score.None;
        double[][] series = new double[_window.Channels][];
        foreach (double gamma in gammas)
        {
            for (int c = 0; c < series.Length; c++)
            {
                series[c] = light.Raw(c, gamma, Smooth(tau));
                weighing.Take(series[c]);
            }

            Score score = weighing.Evaluate(series, gamma, tau, scales);
            best = score.LogLikelihood > best.LogLikelihood ? score : best;
        }

        return best;
    }

    /// <summary>The imperfect light model for the best; returns the best after it.</summary>
    private Standing Imperfect(List<Standing> kept)
    {
        List<Standing> top = [.. kept.OrderByDescending(standing => standing.LogLikelihood).Take(60)];
        foreach (Standing standing in top.OrderBy(standing => standing.Hypothesis.History))
        {
            Prepare(standing);
        }

        // Exponent and lag were found under the exact light model: where that fits badly they are sought again.
        double within = top.Max(standing => standing.LogLikelihood) - NearNats;
        foreach (Standing standing in top.OrderByDescending(standing => standing.LogLikelihood).Take(20).OrderBy(standing => standing.Hypothesis.History))
        {
            if (standing.Imperfection >= LocateRule.Imperfect && standing.LogLikelihood >= within)
            {
                Improve(standing);
            }
        }

        return top.MaxBy(standing => standing.LogLikelihood)!;
    }

    private void Prepare(Standing standing)
    {
        if (standing.Fitted is not null)
        {
            return;
        }

        if (standing.Light is null)
        {
            Load(standing);
        }

        standing.Weighing ??= _unmasked ??= new Weighing(_channels, standing.Prediction!);
        standing.Light = new HypothesisLight(standing.Prediction!, Emitters(standing));
        Try(standing, standing.Score);
    }

    /// <summary>Moves to a neighbouring exponent or lag as long as that helps.</summary>
    private void Improve(Standing standing)
    {
        for (int round = 0; round < 3; round++)
        {
            Score score = standing.Score;
            int tau = Math.Max(Array.IndexOf(FineTaus, score.Tau), 0);
            double before = standing.LogLikelihood;
            Try(standing, score with { Gamma = Math.Max(score.Gamma / FineStep, SecondGammas[0]) });
            Try(standing, score with { Gamma = Math.Min(score.Gamma * FineStep, SteepestResponse) });
            Try(standing, score with { Tau = FineTaus[Math.Max(tau - 1, 0)] });
            Try(standing, score with { Tau = FineTaus[Math.Min(tau + 1, FineTaus.Length - 1)] });
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

        Smoothing smoothing = Smooth(score.Tau);
        Prediction reach = new(_window.Channels);
        _readers[standing.Hypothesis.Mode].Read(
            _window.Load(standing.Hypothesis.History), standing.Hypothesis.Address, LongerWindow, -1, reach);
        standing.Prediction!.Peak.CopyTo(reach.Peak, 0);
        HypothesisLight longer = new(reach, []);
        double[][] raw = new double[_window.Channels][];
        double[][] light = new double[_window.Channels][];
        double[][] whole = new double[_window.Channels][];
        for (int c = 0; c < raw.Length; c++)
        {
            whole[c] = longer.Raw(c, score.Gamma, smoothing);
            raw[c] = whole[c][.._window.Samples];
            light[c] = [.. raw[c]];
            standing.Weighing!.Take(light[c]);
        }

        score = WindowEnds.Best(_channels, standing.Weighing!, score, whole, light, reach.Masked);
        double ends = 0;
        ImperfectLight[] imperfect = new ImperfectLight[raw.Length];
        for (int c = 0; c < raw.Length; c++)
        {
            imperfect[c] = new ImperfectLight(
                standing.Weighing!, c, _channels[c], score.Delay, raw[c], light[c], standing.Light!.Errors(c, score.Gamma, smoothing));
            ends += WindowEnds.Credit(_channels[c], score.Delay, whole[c], light[c], reach.Masked);
        }

        // The strength of spill is chosen again: an imperfect light must not pass for the others' light.
        double most = double.NegativeInfinity;
        ImperfectFit[] chosen = [];
        for (int s = 0; s < ChannelEvidence.SpillScales.Length; s++)
        {
            ImperfectFit[] fits = [.. imperfect.Select(channel => channel.Of(s))];
            double likelihood = ChannelEvidence.SpillLogPrior[s] + Averaged(fits);
            if (likelihood > most)
            {
                (most, chosen, score) = (likelihood, fits, score with { Spill = s });
            }
        }

        double total = ResponsePrior(score.Gamma) + ends + most;
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

    private int LongerWindow => _window.Samples + ChannelEvidence.Delays - 1;

    private Smoothing Smooth(double tau)
    {
        if (!_smoothings.TryGetValue(tau, out Smoothing? smoothing))
        {
            _smoothings.Add(tau, smoothing = new Smoothing(tau, LongerWindow));
        }

        return smoothing;
    }
}
