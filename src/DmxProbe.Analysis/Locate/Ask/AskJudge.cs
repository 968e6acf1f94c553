using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// Makes one answer out of all evidence. With a trace, the rule for traces decides, with everything else added to it; what
/// the trace may not claim, the rest may by itself.
/// </summary>
/// <param name="question">What was captured and measured.</param>
/// <param name="space">The places.</param>
/// <param name="prior">Their prior.</param>
public sealed class AskJudge(LocateQuestion question, AskSpace space, double[] prior)
{
    private const double MostlyNone = 0.9;

    // What the inference on the trace weighs itself.
    private static readonly AskEvidenceKind[] Weighed = [AskEvidenceKind.Trace, AskEvidenceKind.Device];

    // Twenty to one.
    private const double LeastSupport = 3;

    /// <summary>Judges.</summary>
    /// <param name="posterior">All evidence.</param>
    /// <param name="sheet">Index of the sheet's place; -1 where it was not captured.</param>
    public LocateResult Judge(AskPosterior posterior, int sheet)
    {
        ArgumentNullException.ThrowIfNull(posterior);
        bool hasTrace = question.Trace is not null;
        AskPosterior rest = posterior;
        if (hasTrace)
        {
            LocateResult withTrace = LocateInference.Run(question with { Also = Also(posterior) });
            withTrace = Moved(withTrace, posterior);
            if (withTrace.Claim is LocateClaim.Found or LocateClaim.Class || posterior.Evidence.All(piece => Weighed.Contains(piece.Kind)))
            {
                return withTrace with { Contributions = Contributions(posterior, withTrace, sheet) };
            }

            rest = new AskPosterior(space, prior);
            foreach (AskEvidence piece in posterior.Evidence.Where(piece => piece.Kind != AskEvidenceKind.Trace))
            {
                rest.Add(piece);
            }

            LocateResult alone = Of(AskStanding.Of(rest), rest);
            bool speaks = alone.Claim is LocateClaim.Found or LocateClaim.Class || (alone.Claim == LocateClaim.OneOf && withTrace.Claim != LocateClaim.OneOf);
            LocateResult chosen = speaks ? alone : withTrace;
            return chosen with { Contributions = Contributions(posterior, chosen, sheet) };
        }

        LocateResult result = Of(AskStanding.Of(rest), rest);
        return result with { Contributions = Contributions(posterior, result, sheet) };
    }

    /// <summary>
    /// A trace with fewer than three moves claims nothing, since a small prediction fits anything. It may claim where all
    /// else is in order and other evidence speaks for the best over "none of these".
    /// </summary>
    private LocateResult Moved(LocateResult result, AskPosterior posterior)
    {
        if (result.Claim is LocateClaim.Found or LocateClaim.Class || result is not { Best: LocateCandidate best, Fit: LocateFit fit } ||
            fit.Changes is 0 or >= LocateRule.FewestMoves || TraceEvidence.IndexOf(space, question.Histories, best.Hypothesis) is not int index ||
            posterior.LogLikelihood(index, Weighed) - posterior.LogLikelihood(space.Count, Weighed) < LeastSupport ||
            !LocateRule.Normal.AllowsFit(fit with { Changes = LocateRule.FewestMoves }) ||
            !LocateRule.Normal.AllowsPosterior(result.ClassScore, fit, result.Hypotheses))
        {
            return result;
        }

        return result with { Claim = result.ClassMembers.Count > 1 ? LocateClaim.Class : LocateClaim.Found };
    }

    private Func<Hypothesis, double> Also(AskPosterior posterior) => hypothesis =>
        TraceEvidence.IndexOf(space, question.Histories, hypothesis) is int index ? posterior.LogLikelihood(index, Weighed) : 0;

    private LocateResult Of(AskStanding standing, AskPosterior posterior)
    {
        LocateClaim claim = standing.IsSingle ? LocateClaim.Found
            : standing.IsClass ? LocateClaim.Class
            : standing.Set.Count > 0 ? LocateClaim.OneOf
            : standing.None >= MostlyNone ? LocateClaim.NothingExplains
            : LocateClaim.NotEnough;
        double none = posterior.LogLikelihood(space.Count, [AskEvidenceKind.Trace]);
        LocateCandidate Candidate(int index) => CandidateOf(index, posterior.Probability[index]) with { LogLikelihood = posterior.LogLikelihood(index, [AskEvidenceKind.Trace]) - none };
        IReadOnlyList<int> members = claim == LocateClaim.Found ? [standing.Best] : standing.Members;
        return new LocateResult(
            claim,
            false,
            Candidate(standing.Best),
            standing.RunnerUp < 0 ? null : Candidate(standing.RunnerUp),
            [.. members.Select(Candidate)],
            members.Sum(index => posterior.Probability[index]),
            [.. standing.Set.Select(Candidate)],
            null,
            space.Count);
    }

    private LocateCandidate CandidateOf(int index, double probability)
    {
        AskPlace place = space.PlaceAt(index);
        int history = question.Histories.ToList().FindIndex(each => each.Universe == space.Universes[place.Universe]);
        Hypothesis hypothesis = new(history, place.Address, place.Mode);
        ChartMode mode = question.Modes[place.Mode];
        string error = question.Prior.Where(candidate => candidate.Hypothesis == hypothesis).MaxBy(candidate => candidate.Weight)?.Error ?? "";
        return new LocateCandidate(hypothesis, space.Universes[place.Universe], question.Histories[history].Sender, mode.Name, Math.Min(probability, 0.995), 0, error);
    }

    /// <summary>Against the sheet's place where the answer is another one, else against the runner-up.</summary>
    private LocateContribution[] Contributions(AskPosterior posterior, LocateResult result, int sheet)
    {
        if (result.Best is not LocateCandidate best || TraceEvidence.IndexOf(space, question.Histories, best.Hypothesis) is not int index)
        {
            return [];
        }

        bool isSheet = result.ClassMembers.Any(member => TraceEvidence.IndexOf(space, question.Histories, member.Hypothesis) == sheet);
        int? runnerUp = result.RunnerUp is LocateCandidate second ? TraceEvidence.IndexOf(space, question.Histories, second.Hypothesis) : null;
        if ((sheet >= 0 && !isSheet ? sheet : runnerUp) is not int against || against == index)
        {
            return [];
        }

        LocateCandidate other = CandidateOf(against, posterior.Probability[against]);
        return
        [
            .. posterior.Evidence.Select(piece => new LocateContribution(
                piece.Kind.ToString().ToLowerInvariant(), piece.Text, piece.Time, posterior.Contribution(piece, index, against), other)),
        ];
    }
}
