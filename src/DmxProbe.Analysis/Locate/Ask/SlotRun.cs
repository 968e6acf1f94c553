namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>Slots in a row at one level.</summary>
/// <param name="Universe">Index of the universe in the space.</param>
/// <param name="From">First slot.</param>
/// <param name="To">Last slot.</param>
/// <param name="Level">The level.</param>
public readonly record struct SlotRun(int Universe, int From, int To, byte Level);
