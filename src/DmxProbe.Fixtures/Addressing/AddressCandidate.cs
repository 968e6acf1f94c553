namespace DmxProbe.Fixtures.Addressing;

/// <summary>A place that a unit may be reading by a known human error.</summary>
/// <param name="Universe">Universe by the sheet's numbering; it need not be on the sheet.</param>
/// <param name="Address">Start address, 1 to 512.</param>
/// <param name="Mode">The mode it would be in; null for the sheet's own.</param>
/// <param name="Explanations">What may have happened, likeliest first: parts of a sentence, names escaped.</param>
/// <param name="Weight">Prior weight, 0 to 1; all weights of one list sum to at most 1.</param>
public sealed record AddressCandidate(int Universe, int Address, string? Mode, IReadOnlyList<string> Explanations, double Weight)
{
    /// <summary>The likeliest explanation.</summary>
    public string Explanation => Explanations[0];
}
