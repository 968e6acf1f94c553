namespace DmxProbe.Fixtures.Patch;

/// <summary>What a capture says about a universe of the sheet.</summary>
/// <param name="Present">Whether any frame of it was captured.</param>
/// <param name="SlotsSent">Most slots in one frame, 0 to 512; 0 when it is absent.</param>
public readonly record struct UniverseFacts(bool Present, int SlotsSent);
