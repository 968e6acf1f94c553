using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>The use of every slot of every universe, by the sheet.</summary>
internal sealed class SlotUses
{
    private readonly SlotUse[][] _uses;

    public SlotUses(AskRig rig)
    {
        _uses = [.. rig.Space.Universes.Select(_ => new SlotUse[SlotHistory.SlotCount])];
        foreach (AskUnit unit in rig.Units.Where(unit => unit.Universe >= 0))
        {
            SlotUse[] uses = _uses[unit.Universe];
            int last = unit.Mode is ChartMode mode ? unit.Address + mode.Footprint - 1 : LastBeforeNext(rig, unit);
            for (int slot = unit.Address; slot <= Math.Min(last, SlotHistory.SlotCount); slot++)
            {
                SlotUse use = Of(unit.Mode?.Find(slot - unit.Address + 1));
                uses[slot - 1] = use > uses[slot - 1] ? use : uses[slot - 1];
            }
        }
    }

    public SlotUse this[int universe, int slot] => _uses[universe][slot - 1];

    /// <summary>What a chart's slot is; null = not in the chart.</summary>
    public static SlotUse Of(ChartSlot? slot) => slot?.Role switch
    {
        null or SlotRole.Unknown or SlotRole.Hazard => SlotUse.Hazard,
        SlotRole.Intensity or SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber
            when slot.Ranges.All(range => range.Effect is RangeEffect.Proportional or RangeEffect.Open or RangeEffect.Closed or RangeEffect.NoFunction) => SlotUse.Light,
        _ => SlotUse.Closed,
    };

    // Without a chart a unit may take everything up to the next one.
    private static int LastBeforeNext(AskRig rig, AskUnit unit) =>
        rig.Units.Where(other => other.Universe == unit.Universe && other.Address > unit.Address)
            .Select(other => other.Address - 1).DefaultIfEmpty(SlotHistory.SlotCount).Min();
}
