using DmxProbe.Analysis.Locate;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>What locating found for a unit.</summary>
/// <param name="Unit">The unit, as the sheet names it.</param>
/// <param name="Result">The inference.</param>
/// <param name="Answer">The answer in words.</param>
public sealed record LocatedUnit(string Unit, LocateResult Result, LocateAnswer Answer);
