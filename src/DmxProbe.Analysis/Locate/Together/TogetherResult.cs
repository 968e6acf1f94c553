namespace DmxProbe.Analysis.Locate.Together;

/// <summary>What came of locating several units at once.</summary>
/// <param name="Units">Each of them, in order of the sheet.</param>
/// <param name="Findings">What they have in common, the widest first.</param>
/// <param name="ClockShiftSeconds">By how much the clock of all their traces was moved; 0 where it is the capture's.</param>
public sealed record TogetherResult(IReadOnlyList<RowUnit> Units, IReadOnlyList<RowFinding> Findings, double ClockShiftSeconds);
