namespace DmxProbe.Analysis.Index;

/// <summary>How far the making of review files has come.</summary>
/// <param name="Made">Parts made.</param>
/// <param name="Of">Parts to be made in this run.</param>
public readonly record struct ReviewProgress(int Made, int Of);
