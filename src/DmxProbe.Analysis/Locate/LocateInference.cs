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

    private const double SetShare = 0.999;

    // A hundred to one.
    private const double SplittingNats = 4.6;
    private const int LargestSet = 6;

    private readonly LocateQuestion _question;
    private readonly TraceGrid _trace;
    private readonly LocateContext _context;

    private LocateInference(LocateQuestion question, TraceGrid trace)
    {
        _question = question;
        _trace = trace;
        _context = new LocateContext(question, trace);
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

        LightTrace light = question.Trace ?? throw new ArgumentException("this inference needs a trace", nameof(question));
        return light.Clock == TraceClock.Shared ? OnOneClock(question, 1) : ClockSearch.Run(question);
    }

    /// <summary>Runs it with the trace's times as they are.</summary>
    /// <param name="question">What was captured and measured; with a trace.</param>
    /// <param name="moments">How many moments of the trace are open: each is a hypothesis more.</param>
    internal static LocateResult OnOneClock(LocateQuestion question, int moments)
    {
        TraceGrid trace = question.Trace!.ToGrid(question.Histories[0].Start, question.Histories.Max(history => history.Samples));
        return trace.Count < FewestSamples
            ? throw new ArgumentException("the trace and the capture share too little time", nameof(question))
            : new LocateInference(question, trace).Locate(moments);
    }

    /// <summary>How many samples of 1/30 s a trace shares with the histories; with an uncertain clock, at best.</summary>
    public static int Overlap(IReadOnlyList<SlotHistory> histories, LightTrace trace)
    {
        ArgumentNullException.ThrowIfNull(histories);
        ArgumentNullException.ThrowIfNull(trace);
        return histories.Count == 0 ? 0 : trace.Clock != TraceClock.Shared ? ClockSearch.MostShared(histories, trace) : trace.ToGrid(histories[0].Start, histories.Max(history => history.Samples)).Count;
    }

    /// <summary>Place of a hypothesis in the ranking of stage 1 among those it competes with for being kept, from 1; how many are kept; how many there are.</summary>
    internal static (int Place, int Kept, int Live) Prefiltered(LocateQuestion question, Hypothesis hypothesis)
    {
        TraceGrid trace = question.Trace!.ToGrid(question.Histories[0].Start, question.Histories.Max(history => history.Samples));
        HypothesisSearch search = new(new LocateContext(question, trace));
        List<Standing> standings = search.FirstStage();
        Standing? own = standings.Find(standing => standing.Hypothesis == hypothesis);
        return own is null
            ? (int.MaxValue, 0, standings.Count)
            : (1 + standings.Count(other => other.IsMasked == own.IsMasked && other.LogLikelihood > own.LogLikelihood),
                search.Kept(standings).Count(other => other.IsMasked == own.IsMasked), standings.Count);
    }

    private LocateResult Locate(int moments)
    {
        HypothesisSearch search = new(_context);
        List<Standing> standings = search.FirstStage();
        int moves = TraceMoves.Count(_trace.Channels, _context.Channels);
        if (standings.Count == 0)
        {
            LocateClaim nothing = moves >= TraceMoves.Enough ? LocateClaim.NothingExplains : LocateClaim.NotEnough;
            return new LocateResult(nothing, false, null, null, [], 0, [], null, 0);
        }

        ImperfectSearch imperfect = new(_context);
        Standing leader = imperfect.Run(search.SecondStage(standings));
        FitFigures figures = FitCheck.Of(_context.Channels, leader.Weighing!, leader.Score.Delay, leader.Fitted!, _context.Others);
        int everything = _question.Histories.Count * SlotHistory.SlotCount * _question.Modes.Count;
        foreach (Standing standing in standings)
        {
            standing.Also = _question.Also?.Invoke(standing.Hypothesis) ?? 0;
        }

        Posteriors.Set(standings, _question.Prior, _question.Reports, everything, figures.Correlated);
        HypothesisNats[] likelihoods = [.. standings.Select(standing => new HypothesisNats(standing.Hypothesis, standing.LogLikelihood / figures.Correlated))];
        List<Standing> ranked = [.. standings.OrderByDescending(standing => standing.Posterior)];
        Standing best = ranked[0];
        if (best != leader)
        {
            // The prior put another one first: its own fit counts.
            imperfect.Prepare(best);
            figures = FitCheck.Of(_context.Channels, best.Weighing!, best.Score.Delay, best.Fitted!, _context.Others);
        }

        LocateFit fit = Fit(best, figures, moves);
        return Judge(ranked, best, fit, standings.Count, moments) with { Likelihoods = likelihoods };
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
        SpillStrength.All[best.Score.Spill].Apart,
        best.Imperfection,
        best.Light!.Moves(),
        moves,
        best.Weighing!.Count);

    private LocateResult Judge(List<Standing> ranked, Standing best, LocateFit fit, int live, int moments)
    {
        Likeness likeness = new(best, _context.Smooth(LocateContext.UsualTau));
        List<Standing> members = [best];
        Standing? runnerUp = null;
        foreach (Standing other in ranked.Skip(1))
        {
            // What no light can tell apart a device's own report can.
            if (other.Light is not null && other.ReportNats > best.ReportNats - SplittingNats && likeness.IsSame(other))
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

        fit = runnerUp is null ? fit : fit with
        {
            Lead = best.LogLikelihood - runnerUp.LogLikelihood,
            RivalsWithSpill = ranked.Where(other => other.Score.Spill > 0).Except(members).Sum(other => other.Posterior),
        };
        bool fits = LocateRule.Normal.AllowsFit(fit);
        LocateClaim claim =
            fits && LocateRule.Normal.AllowsPosterior(score, fit, live * moments) ? members.Count > 1 ? LocateClaim.Class : LocateClaim.Found
            : fits && held >= SetShare && set.Count <= LargestSet ? LocateClaim.OneOf
            : TraceMoves.NothingExplains(fit) ? LocateClaim.NothingExplains
            : LocateClaim.NotEnough;
        bool strict = claim is LocateClaim.Found or LocateClaim.Class && LocateRule.Strict.AllowsFit(fit) &&
            LocateRule.Strict.AllowsPosterior(score, fit, live * moments);
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
            Math.Min(standing.Posterior, LocateRule.HighestPrinted),
            standing.LogLikelihood,
            error?.Error ?? "")
        {
            OtherErrors = error?.OtherErrors ?? [],
        };
    }
}
