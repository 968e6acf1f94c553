namespace DmxProbe.Analysis.Diagnosis;

/// <summary>
/// One cause of trouble: what it needs to be decided, its test, what excludes it, what to do. Pure: the same case gives
/// the same reports. docs/causes.md is made from these classes.
/// </summary>
/// <param name="card">What is always true of it.</param>
public abstract class Cause(CauseCard card)
{
    /// <summary>What is always true of it.</summary>
    public CauseCard Card => card;

    /// <summary>Our own kebab-case name.</summary>
    public string Id => card.Id;

    /// <summary>What it is, as a phrase.</summary>
    public string Name => card.Name;

    /// <summary>Whether the inputs of a case are enough to judge it.</summary>
    public bool CanJudge(CauseInputs inputs) => card.Needs.Any(need => (need & inputs) == need);

    /// <summary>Where the case shows it; empty when it does not. Asked only where <see cref="CanJudge"/> holds.</summary>
    public abstract IEnumerable<CauseReport> Find(DiagnosisCase it);

    /// <summary>
    /// Why a case that does not show it excludes it, one sentence; null where not seeing it proves nothing (it is then told as
    /// <see cref="CauseState.CannotTell"/>, with what would tell).
    /// </summary>
    public virtual string? Exclusion(DiagnosisCase it) => card.NotSeen.Length > 0 ? card.NotSeen : null;

    /// <summary>A report of this cause.</summary>
    protected CauseReport Report(CauseState state, string subject, string text, params CauseEvidence[] evidence) =>
        new() { Cause = this, State = state, Subject = subject, Text = text, Evidence = evidence };
}
