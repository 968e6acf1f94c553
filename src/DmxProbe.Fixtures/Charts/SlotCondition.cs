namespace DmxProbe.Fixtures.Charts;

/// <summary>A range that holds only while another slot of the mode is in a range.</summary>
/// <param name="Slot">The other slot, from 1; the high byte when it has low bytes.</param>
/// <param name="From">First value, in the full width of that slot and its low bytes.</param>
/// <param name="To">Last value, not below <paramref name="From"/>.</param>
public sealed record SlotCondition(int Slot, long From, long To);
