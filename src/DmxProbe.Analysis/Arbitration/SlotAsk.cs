using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Arbitration;

/// <summary>A range of slots that somebody asks about.</summary>
/// <param name="Universes">The universes that may be meant.</param>
/// <param name="FromSlot">First slot, 1 to 512.</param>
/// <param name="ToSlot">Last slot, from <paramref name="FromSlot"/> to 512.</param>
public sealed record SlotAsk(IReadOnlyList<UniverseId> Universes, int FromSlot, int ToSlot);
