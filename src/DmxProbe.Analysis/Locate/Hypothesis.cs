namespace DmxProbe.Analysis.Locate;

/// <summary>What a light could be reading.</summary>
/// <param name="History">Index of the history among those given: a universe of one sender.</param>
/// <param name="Address">Start address, 1 to 512.</param>
/// <param name="Mode">Index of the mode among those open.</param>
public readonly record struct Hypothesis(int History, int Address, int Mode);
