using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Tests.Light;

/// <summary>Modes written in one line for the tests of the light model.</summary>
internal static class Modes
{
    public static ChartMode Of(params ChartSlot[] slots) => new("test", slots, slots.Max(slot => slot.Slot));

    public static ChartSlot Slot(int number, SlotRole role, params ChartRange[] ranges) => Named(number, role.ToString(), role, ranges);

    public static ChartSlot Named(int number, string name, SlotRole role, params ChartRange[] ranges) =>
        new(number, name, role, ranges.Length > 0 ? ranges : [new ChartRange(0, 255, "", RangeEffect.Proportional)]);

    public static ChartRange Range(int from, int to, RangeEffect effect) => new(from, to, effect.ToString(), effect);
}
