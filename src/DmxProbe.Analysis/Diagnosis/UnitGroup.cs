namespace DmxProbe.Analysis.Diagnosis;

/// <summary>What the bad units have in common.</summary>
/// <param name="Kind">By what: chain, addresses, universe, high slots, type, circuit, wireless, position.</param>
/// <param name="Text">What they share, as a phrase: <c>all after LX2-3 in chain 'stage left'</c>.</param>
/// <param name="Gain">How much of the question it answers, bits (0 to 1).</param>
/// <param name="Units">The units it names, bad or not.</param>
/// <param name="Check">The check that follows; null when none does.</param>
public sealed record UnitGroup(UnitGroupKind Kind, string Text, double Gain, IReadOnlyList<string> Units, NextCheck? Check);
