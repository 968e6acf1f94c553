namespace DmxProbe.Analysis.Diagnosis;

/// <summary>Something only a person can see.</summary>
/// <param name="Check">What to look at.</param>
/// <param name="Causes">The causes it decides (<see cref="Cause.Id"/>).</param>
/// <param name="FitsWhatWasSaid">Whether one of them is among those that the words of the complaint bring to mind.</param>
public sealed record DiagnosisQuestion(NextCheck Check, IReadOnlyList<string> Causes, bool FitsWhatWasSaid);
