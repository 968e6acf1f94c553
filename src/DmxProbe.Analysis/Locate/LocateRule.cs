namespace DmxProbe.Analysis.Locate;

/// <summary>What a claim must pass. The figures were set on one range of simulated rigs and measured on another: docs/locating.md.</summary>
/// <param name="Posterior">Smallest posterior of the class.</param>
/// <param name="Unexplained">Largest share of the structured variance left over, before twice its standard error.</param>
/// <param name="Spill">Largest share of other units' light.</param>
/// <param name="ImperfectPosterior">Smallest posterior of the class where the light model is visibly imperfect.</param>
public sealed record LocateRule(double Posterior, double Unexplained, double Spill, double ImperfectPosterior)
{
    /// <summary>The highest confidence that is printed: the light model itself can be wrong.</summary>
    public const double HighestPrinted = 0.995;

    /// <summary>Smallest share of the unit's own light.</summary>
    public const double SmallestOwn = 0.25;

    /// <summary>Smallest log-likelihood over "only the other units' light", nats.</summary>
    public const double SmallestMargin = 15;

    /// <summary>Fewest moves of the predicted light.</summary>
    public const int FewestMoves = 3;

    /// <summary>Smallest posterior of the class where there is any spill.</summary>
    public const double SpillPosterior = 0.999;

    /// <summary>
    /// Largest posterior of others that fit with some spill, also where the class fits without any: a fit without spill is only as
    /// good as the belief that there is none.
    /// </summary>
    public const double MostRivalsWithSpill = 0.003;

    /// <summary>
    /// From this spill scale on nothing is claimed: what fits only with so much of the others' light is too often wrong.
    /// Unless the scale only took up what the light model left over: <see cref="IsSpillHopeless"/>.
    /// </summary>
    public const double StrongSpill = 0.05;

    /// <summary>Largest share of the others' light in the fit for which a strong spill scale may be set aside.</summary>
    public const double NegligibleSpill = 0.05;

    /// <summary>
    /// Least lead over the runner-up, as a share of the margin over "only the other units' light", for which a strong spill
    /// scale may be set aside.
    /// </summary>
    public const double OverwhelmingLead = 0.1;

    /// <summary>
    /// The same in nats: wrong claims on tuning and test rigs led by up to 25 nats, most of a margin of a few dozen.
    /// </summary>
    public const double LeastLead = 100;

    /// <summary>From this many nats on the light model counts as imperfect.</summary>
    public const double Imperfect = 3;

    /// <summary>Hypotheses that change, in the rigs the figures were set on; more of them ask for a higher posterior.</summary>
    public const double UsualHypotheses = 250;

    /// <summary>The rule for a claim.</summary>
    public static LocateRule Normal { get; } = new(0.99, 0.005, 0.7, 0.9997);

    /// <summary>The rule for a claim that may be wrong once in a thousand.</summary>
    public static LocateRule Strict { get; } = new(0.9999, 0.005, 0.2, 0.999999);

    /// <summary>Whether light and fit allow a claim at all; a light that moves far oftener than predicted is another one.</summary>
    public bool AllowsFit(LocateFit fit)
    {
        ArgumentNullException.ThrowIfNull(fit);
        return fit.Unexplained <= Unexplained + (2 * fit.UnexplainedError) && fit.OwnShare >= SmallestOwn &&
            fit.SpillShare <= Spill && !IsSpillHopeless(fit) && fit.MarginOverNone >= SmallestMargin &&
            fit.Changes >= FewestMoves && fit.LightChanges <= MostMoves(fit.Changes);
    }

    /// <summary>The most moves of a light that a prediction with so many may have.</summary>
    /// <param name="changes">Moves of the prediction.</param>
    public static int MostMoves(int changes) => (2 * changes) + 3;

    /// <summary>
    /// Whether the others' light is too strong for any claim: the spill scale is high, and the fit needs it or does not lead
    /// by far.
    /// </summary>
    public static bool IsSpillHopeless(LocateFit fit)
    {
        ArgumentNullException.ThrowIfNull(fit);
        bool needless = fit.SpillShare <= NegligibleSpill && fit.Lead >= Math.Max(LeastLead, OverwhelmingLead * fit.MarginOverNone);
        return fit.SpillScale >= StrongSpill && !needless;
    }

    /// <summary>Whether the posterior is high enough.</summary>
    /// <param name="posterior">Of the class.</param>
    /// <param name="fit">The fit.</param>
    /// <param name="hypotheses">How many hypotheses change.</param>
    public bool AllowsPosterior(double posterior, LocateFit fit, int hypotheses)
    {
        ArgumentNullException.ThrowIfNull(fit);
        double needed = Math.Max(Posterior, fit.SpillScale > 0 ? SpillPosterior : 0);
        needed = Math.Max(needed, fit.Imperfection >= Imperfect ? ImperfectPosterior : 0);
        double more = Math.Max(1, hypotheses / UsualHypotheses);
        return 1 - posterior <= (1 - needed) / more && fit.RivalsWithSpill <= MostRivalsWithSpill / more;
    }
}
