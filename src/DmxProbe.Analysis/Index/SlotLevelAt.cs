using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>A slot's level from a time on.</summary>
/// <param name="Time">Since when.</param>
/// <param name="Level">0 to 255; -1 from a frame on that did not send the slot.</param>
public readonly record struct SlotLevelAt(Timestamp Time, int Level);
