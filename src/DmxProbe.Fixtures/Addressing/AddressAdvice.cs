using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Fixtures.Addressing;

/// <summary>Whether a place on the sheet may be given to a unit: asked before anyone is told to set an address.</summary>
/// <param name="Fits">Whether it ends at slot 512 or before.</param>
/// <param name="TakenBy">The units of the sheet that take some of these slots, by address.</param>
public sealed record AddressAdvice(bool Fits, IReadOnlyList<PatchUnit> TakenBy)
{
    /// <summary>Whether it fits and nothing on the sheet is there.</summary>
    public bool Free => Fits && TakenBy.Count == 0;

    /// <summary>Looks a range of slots up.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="charts">The charts; a unit whose chart is not known counts as one slot.</param>
    /// <param name="universe">Universe by the sheet's numbering.</param>
    /// <param name="address">First slot, 1 to 512.</param>
    /// <param name="footprint">How many slots, at least 1.</param>
    /// <param name="moving">The unit of the sheet that is to move there, which does not stand in its own way; with it the units it shares with on purpose. Null for none.</param>
    public static AddressAdvice For(PatchSheet sheet, ChartSet charts, int universe, int address, int footprint, PatchUnit? moving = null)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(charts);
        ArgumentOutOfRangeException.ThrowIfNotEqual(address is >= 1 and <= 512, true, nameof(address));
        ArgumentOutOfRangeException.ThrowIfNotEqual(footprint is >= 1 and <= 512, true, nameof(footprint));
        int last = address + footprint - 1;
        ShareGroups? groups = moving is null ? null : new ShareGroups(sheet);
        return new AddressAdvice(last <= 512, [.. sheet.Units
            .Where(unit => unit.Universe == universe && unit.Address <= last && unit.Address + charts.FootprintOf(unit.Type, unit.Mode) > address)
            .Where(unit => moving is null || !ReferenceEquals(groups!.Of(unit), groups.Of(moving)))
            .OrderBy(unit => unit.Address)]);
    }
}
