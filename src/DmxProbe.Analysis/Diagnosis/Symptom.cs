namespace DmxProbe.Analysis.Diagnosis;

/// <summary>What people say, and what to think of first.</summary>
/// <param name="Id">Our own name of it.</param>
/// <param name="Words">Groups of words: one of each group must be in what was said.</param>
/// <param name="FirstTest">The first test, seconds and no ladder.</param>
/// <param name="Causes">The causes to think of, in order (<see cref="Cause.Id"/>).</param>
public sealed record Symptom(string Id, IReadOnlyList<IReadOnlyList<string>> Words, string FirstTest, IReadOnlyList<string> Causes)
{
    /// <summary>What to do before anything else where what was said can hurt; empty where it cannot.</summary>
    public string Safety { get; init; } = "";
}
