namespace DmxProbe.Analysis.Diagnosis;

/// <summary>A cause that no input decides by itself: it becomes a question to a person.</summary>
/// <param name="card">What is always true of it.</param>
public sealed class PersonCause(CauseCard card) : Cause(card)
{
    /// <inheritdoc/>
    public override IEnumerable<CauseReport> Find(DiagnosisCase it) => [];
}
