namespace DmxProbe.Fixtures.Charts;

/// <summary>A range of values in the full width of a slot and its low bytes, perhaps only under a condition.</summary>
/// <param name="From">First value, 0 to 256^bytes - 1.</param>
/// <param name="To">Last value, not below <paramref name="From"/>.</param>
/// <param name="Meaning">The chart's own words, verbatim; untrusted text.</param>
/// <param name="Effect">What the light model makes of it.</param>
public sealed record ExactRange(long From, long To, string Meaning, RangeEffect Effect)
{
    /// <summary>When it holds; null for always, and then ranges whose condition is met go before it.</summary>
    public SlotCondition? When { get; init; }
}
