namespace DmxProbe.Analysis.Arbitration;

/// <summary>The copies of one contest's claims, and of the outcomes that name them: each is copied once, so that what was the same stays the same.</summary>
internal sealed class ClaimCopies
{
    private readonly Dictionary<Claim, Claim> _claims = [];
    private readonly Dictionary<Outcome, Outcome> _outcomes = [];

    /// <summary>The copy of a claim.</summary>
    public Claim Of(Claim claim)
    {
        if (!_claims.TryGetValue(claim, out Claim? own))
        {
            _claims.Add(claim, own = claim.Copy());
        }

        return own;
    }

    /// <summary>The outcome of the copied claims.</summary>
    public Outcome Of(Outcome outcome)
    {
        if (!_outcomes.TryGetValue(outcome, out Outcome? own))
        {
            own = outcome.Claims.Length == 0 ? outcome : new Outcome([.. outcome.Claims.Select(Of)], outcome.Rule);
            _outcomes.Add(outcome, own);
        }

        return own;
    }
}
