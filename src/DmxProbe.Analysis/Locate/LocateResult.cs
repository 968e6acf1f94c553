namespace DmxProbe.Analysis.Locate;

/// <summary>What the inference found.</summary>
/// <param name="Claim">What it dares to say.</param>
/// <param name="IsStrict">Whether the claim also passes the stricter rule (wrong at most once in a thousand on simulated rigs).</param>
/// <param name="Best">The most likely hypothesis, whatever the claim; null when no hypothesis changes at all.</param>
/// <param name="RunnerUp">The most likely one outside the best one's class; null when there is none.</param>
/// <param name="ClassMembers">All that cannot be told from the best, itself first.</param>
/// <param name="ClassScore">Posterior of the class, not capped, 0 to 1.</param>
/// <param name="Candidates">The smallest set that holds 99.9 % of the posterior, when it has at most six members; else empty.</param>
/// <param name="Fit">How the best one fits; null without a best one.</param>
/// <param name="Hypotheses">How many hypotheses change at all.</param>
public sealed record LocateResult(
    LocateClaim Claim,
    bool IsStrict,
    LocateCandidate? Best,
    LocateCandidate? RunnerUp,
    IReadOnlyList<LocateCandidate> ClassMembers,
    double ClassScore,
    IReadOnlyList<LocateCandidate> Candidates,
    LocateFit? Fit,
    int Hypotheses)
{
    /// <summary>By how much the trace's clock had to be moved to meet the capture's, s; 0 where both have one clock.</summary>
    public double ClockShiftSeconds { get; init; }

    /// <summary>What the trace says about every hypothesis that changes; empty without a trace.</summary>
    public IReadOnlyList<HypothesisNats> Likelihoods { get; init; } = [];

    /// <summary>
    /// What is printed as the confidence that the best or its class is right, 0 to <see cref="LocateRule.HighestPrinted"/>:
    /// <see cref="LocateConfidence"/>.
    /// </summary>
    public double Confidence => LocateConfidence.Of(Claim, ClassScore, Fit);

    /// <summary>What each piece of evidence contributed, where there is more than the trace; else empty.</summary>
    public IReadOnlyList<LocateContribution> Contributions { get; init; } = [];
}
