namespace DmxProbe.Analysis.Locate;

/// <summary>A hypothesis that a known human error makes more likely.</summary>
/// <param name="Hypothesis">What the light would be reading.</param>
/// <param name="Weight">Relative weight, above 0; weights of one hypothesis add.</param>
/// <param name="Error">The error in words, as it is printed; empty for "as the sheet says".</param>
public sealed record PriorCandidate(Hypothesis Hypothesis, double Weight, string Error)
{
    /// <summary>Further errors that lead to the same place, likeliest first.</summary>
    public IReadOnlyList<string> OtherErrors { get; init; } = [];
}
