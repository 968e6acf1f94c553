namespace DmxProbe.Analysis.Locate.Together;

/// <summary>What came of one unit.</summary>
/// <param name="Unit">The unit.</param>
/// <param name="Alone">What its own light says.</param>
/// <param name="Result">The same with what the units beside it make likely.</param>
public sealed record RowUnit(UnitInRow Unit, LocateResult Alone, LocateResult Result)
{
    /// <summary>A claim was made.</summary>
    public bool IsClaimed => Result.Claim is LocateClaim.Found or LocateClaim.Class;
}
