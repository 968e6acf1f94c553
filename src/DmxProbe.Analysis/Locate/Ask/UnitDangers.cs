using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>Which levels of which slots would make the unit itself move, flash, run a programme, reset or worse, by mode.</summary>
internal sealed class UnitDangers
{
    private readonly bool[][][] _dangers;

    public UnitDangers(AskSpace space) => _dangers = [.. space.Modes.Select(Of)];

    /// <summary>Whether a slot of a mode, from 1, must not be brought to a level.</summary>
    public bool At(int mode, int slot, byte level) => _dangers[mode][slot - 1][level];

    /// <summary>All levels of a slot.</summary>
    public bool[] Levels(int mode, int slot) => _dangers[mode][slot - 1];

    private static bool[][] Of(ChartMode mode)
    {
        bool[][] dangers = new bool[Math.Max(mode.Footprint, 1)][];
        for (int slot = 1; slot <= dangers.Length; slot++)
        {
            ChartSlot? chart = mode.Find(slot);

            // A low byte shares the fate of its high byte.
            ChartSlot? role = chart?.Role == SlotRole.Fine ? mode.Slots.FirstOrDefault(known => known.LowSlots.Contains(slot)) : chart;
            dangers[slot - 1] = [.. Enumerable.Range(0, 256).Select(level => level > 0 && IsDanger(chart, role, level))];
        }

        return dangers;
    }

    private static bool IsDanger(ChartSlot? chart, ChartSlot? role, int level)
    {
        if (chart is null || role is null)
        {
            return true;
        }

        bool isLow = chart != role;
        RangeEffect effect = isLow ? RangeEffect.Proportional : role.Ranges.FirstOrDefault(range => level >= range.From && level <= range.To)?.Effect ?? RangeEffect.Unknown;
        bool conditional = role.Exact.Any(range => range.When is not null && range.Effect is RangeEffect.Flashing or RangeEffect.ProgrammeRuns or RangeEffect.ControlAction or RangeEffect.Unknown);
        return conditional || effect is RangeEffect.Flashing or RangeEffect.ProgrammeRuns or RangeEffect.ControlAction or RangeEffect.Unknown || role.Role switch
        {
            SlotRole.Intensity or SlotRole.Red or SlotRole.Green or SlotRole.Blue or SlotRole.White or SlotRole.Amber or
                SlotRole.UltraViolet or SlotRole.OtherEmitter or SlotRole.Shutter or SlotRole.Beam or SlotRole.None => false,
            _ => effect != RangeEffect.NoFunction,
        };
    }
}
