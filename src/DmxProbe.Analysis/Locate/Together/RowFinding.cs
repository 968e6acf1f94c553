namespace DmxProbe.Analysis.Locate.Together;

/// <summary>Something that several units have in common.</summary>
/// <param name="Kind">What.</param>
/// <param name="Units">The units' names, in order of the sheet; untrusted text.</param>
/// <param name="Shift">By how much they are shifted, where they are.</param>
/// <param name="Culprit">The unit in front of them whose mode explains the shift; null where none does.</param>
/// <param name="CulpritMode">Index of that mode among the modes of its question; -1 without.</param>
/// <param name="Confidence">Posterior of the statement, 0 to <see cref="LocateRule.HighestPrinted"/>.</param>
public sealed record RowFinding(
    RowFindingKind Kind, IReadOnlyList<string> Units, RowShift Shift, string? Culprit, int CulpritMode, double Confidence);
