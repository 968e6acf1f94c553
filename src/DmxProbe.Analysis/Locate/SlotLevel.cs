namespace DmxProbe.Analysis.Locate;

/// <summary>A slot and the level it is to be raised to.</summary>
/// <param name="Slot">1 to 512.</param>
/// <param name="Level">1 to 255.</param>
public readonly record struct SlotLevel(int Slot, byte Level);
