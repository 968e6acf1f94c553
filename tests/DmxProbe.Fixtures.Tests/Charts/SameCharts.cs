using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Tests.Charts;

/// <summary>Compares charts part by part; records compare their lists by reference.</summary>
internal static class SameCharts
{
    public static void Equal(Chart expected, Chart actual)
    {
        Assert.Equal(expected.Type, actual.Type);
        Assert.Equal(expected.Modes.Select(mode => (mode.Name, mode.Footprint)), actual.Modes.Select(mode => (mode.Name, mode.Footprint)));
        foreach ((ChartMode one, ChartMode other) in expected.Modes.Zip(actual.Modes))
        {
            Assert.Equal(one.Slots.Select(slot => (slot.Slot, slot.Function, slot.Role, slot.Default, slot.Cell)), other.Slots.Select(slot => (slot.Slot, slot.Function, slot.Role, slot.Default, slot.Cell)));
            foreach ((ChartSlot slot, ChartSlot same) in one.Slots.Zip(other.Slots))
            {
                Assert.Equal(slot.LowSlots, same.LowSlots);
                Assert.Equal(slot.Ranges, same.Ranges);
                Assert.Equal(slot.Exact, same.Exact);
            }
        }
    }
}
