using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>A slot that stands at another level.</summary>
/// <param name="Universe">The universe.</param>
/// <param name="Slot">Slot, from 1.</param>
/// <param name="LastNight">Level last night.</param>
/// <param name="Tonight">Level tonight.</param>
public sealed record NightSlotDifference(UniverseId Universe, int Slot, byte LastNight, byte Tonight);
