namespace DmxProbe.Analysis.Locate.Together;

/// <summary>How far the units of a row read from where the sheet has them.</summary>
/// <param name="History">Index of the history they read.</param>
/// <param name="Slots">Slots above the sheet's address; negative below.</param>
public readonly record struct RowShift(int History, int Slots);
