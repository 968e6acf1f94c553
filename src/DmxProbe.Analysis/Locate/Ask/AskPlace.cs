namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>What a light could be reading, whoever sends it: a place on the wire and a mode.</summary>
/// <param name="Universe">Index of the universe in the space.</param>
/// <param name="Address">Start address, 1 to 512.</param>
/// <param name="Mode">Index of the mode among those open.</param>
public readonly record struct AskPlace(int Universe, int Address, int Mode);
