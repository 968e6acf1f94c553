namespace DmxProbe.Fixtures.Charts;

/// <summary>One slot of a mode.</summary>
/// <param name="Slot">Place in the mode, from 1; slot 1 is the start address.</param>
/// <param name="Function">The chart's own word for it, verbatim; untrusted text.</param>
/// <param name="Role">What it does.</param>
/// <param name="Ranges">Its ranges in order; together they cover 0 to 255 without gap or overlap.</param>
public sealed record ChartSlot(int Slot, string Function, SlotRole Role, IReadOnlyList<ChartRange> Ranges);
