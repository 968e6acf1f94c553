namespace DmxProbe.Analysis.Diagnosis;

/// <summary>Something only a person can see.</summary>
/// <param name="Check">What to look at.</param>
/// <param name="Causes">The causes it decides (<see cref="Cause.Id"/>).</param>
public sealed record DiagnosisQuestion(NextCheck Check, IReadOnlyList<string> Causes);
