namespace DmxProbe.Analysis.Arbitration;

/// <summary>Slots beside each other that the same senders decide for the same reason.</summary>
/// <param name="FromSlot">First slot, 1 to 512.</param>
/// <param name="ToSlot">Last slot.</param>
/// <param name="Cases">The answers, as of one slot; without levels and moves.</param>
public sealed record WinnerRange(int FromSlot, int ToSlot, IReadOnlyList<SlotCase> Cases);
