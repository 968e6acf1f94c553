namespace DmxProbe.Fixtures.Charts;

/// <summary>One mode (personality) of a fixture type.</summary>
/// <param name="Name">Its name; untrusted text.</param>
/// <param name="Slots">Its slots in order; slots the chart does not mention are absent and count as unknown.</param>
/// <param name="Footprint">How many slots it takes, from the start address.</param>
public sealed record ChartMode(string Name, IReadOnlyList<ChartSlot> Slots, int Footprint);
