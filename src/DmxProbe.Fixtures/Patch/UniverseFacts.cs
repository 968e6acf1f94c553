namespace DmxProbe.Fixtures.Patch;

/// <summary>What a capture says about a universe of the sheet.</summary>
/// <param name="Present">Whether anything of it was captured: levels, other START codes or RDM.</param>
/// <param name="SlotsSent">Most slots of levels in one frame, 0 to 512; 0 when it carries no levels.</param>
public readonly record struct UniverseFacts(bool Present, int SlotsSent);
