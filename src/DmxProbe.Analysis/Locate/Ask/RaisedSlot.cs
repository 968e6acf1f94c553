namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>A slot brought to a level for a question.</summary>
/// <param name="Universe">Index of the universe in the space.</param>
/// <param name="Slot">1 to 512.</param>
/// <param name="Level">The level.</param>
public readonly record struct RaisedSlot(int Universe, int Slot, byte Level);
