namespace DmxProbe.Analysis.Locate;

/// <summary>
/// The confidence that is printed: how often such an answer was right on simulated rigs. A posterior says how the hypotheses
/// stand to each other; it knows nothing of lights that none of them explains, nor of light models that are wrong.
/// <para>
/// Claims print their posterior, capped: they were right as often as that. Where nothing is claimed, a logistic score of the
/// posterior and of what stood in the way (<see cref="Traits"/>) puts the answer in one of a few levels, and the level's share of
/// right best guesses is printed. Weights and levels are what <c>locate-calibrate</c> of tests/DmxProbe.Benchmarks prints: logistic
/// regression with every cell of the accuracy table weighing the same, then a monotone regression of right on the score whose
/// blocks are merged until each holds three hundred rigs, each scored with weights that were fitted without it. docs/locating.md
/// has the seeds, the check on others, and the table.
/// </para>
/// </summary>
public static class LocateConfidence
{
    private const double LeastOdds = -2;
    private const double UsualOdds = 7;
    private const double MostOdds = 25;

    /// <summary>Where nothing explains the light the best guess was hardly ever right.</summary>
    private const double NothingExplains = 0.01;

    private static readonly double[] Weights = [1.757, 0.407, 0, -2.430, -1.688, -1.456, -0.683, -1.017, 0.246, -1.217, -1.604, -0.330];

    private static readonly (double From, double Share)[] Levels =
    [
        (double.NegativeInfinity, 0.031),
        (-1.854, 0.294),
        (0.462, 0.836),
        (2.584, 0.978),
    ];

    /// <summary>How many traits there are.</summary>
    public const int TraitCount = 12;

    /// <summary>The confidence that the best or its class is right, 0 to <see cref="LocateRule.HighestPrinted"/>.</summary>
    /// <param name="claim">The claim.</param>
    /// <param name="posterior">Of the class, among the hypotheses.</param>
    /// <param name="fit">The fit; null without a trace.</param>
    public static double Of(LocateClaim claim, double posterior, LocateFit? fit) => claim switch
    {
        LocateClaim.Found or LocateClaim.Class => Math.Min(posterior, LocateRule.HighestPrinted),
        _ when fit is null => Math.Min(posterior, LocateRule.HighestPrinted),
        LocateClaim.NothingExplains => NothingExplains,
        _ => Math.Min(Level(Score(Weights, Traits(claim, posterior, fit))), LocateRule.HighestPrinted),
    };

    /// <summary>What an answer without a claim is judged by; the first is 1.</summary>
    internal static double[] Traits(LocateClaim claim, double posterior, LocateFit fit)
    {
        double odds = Math.Log(Math.Max(posterior, 1e-12) / Math.Max(1 - posterior, 1e-12));
        double excess = Math.Max(0, fit.Unexplained - (2 * fit.UnexplainedError));
        return
        [
            1,
            Math.Clamp(odds, LeastOdds, UsualOdds),
            Math.Clamp(odds, UsualOdds, MostOdds) - UsualOdds,
            Math.Log(1 + (excess / LocateRule.Normal.Unexplained)),
            One(fit.Changes < LocateRule.FewestMoves || fit.LightChanges < LocateRule.FewestMoves),
            One(LocateRule.IsSpillHopeless(fit)),
            One(fit.Imperfection >= LocateRule.Imperfect),
            One(fit.SpillScale > 0),
            One(claim == LocateClaim.OneOf),
            One(fit.OwnShare < LocateRule.SmallestOwn || fit.SpillShare > LocateRule.Normal.Spill),
            One(fit.MarginOverNone < LocateRule.SmallestMargin),
            One(fit.LightChanges > LocateRule.MostMoves(fit.Changes)),
        ];
    }

    /// <summary>The logistic score.</summary>
    internal static double Score(double[] weights, double[] traits)
    {
        double score = 0;
        for (int i = 0; i < weights.Length; i++)
        {
            score += weights[i] * traits[i];
        }

        return score;
    }

    private static double Level(double score)
    {
        double share = Levels[0].Share;
        foreach ((double from, double level) in Levels)
        {
            share = score >= from ? level : share;
        }

        return share;
    }

    private static double One(bool holds) => holds ? 1 : 0;
}
