using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Light;

/// <summary>What a slot does while another slot is in a range.</summary>
internal sealed class LightCase(SlotCondition when, ChartSlot master, float[] values, int fineOffset)
{
    public float[] Values => values;

    public int FineOffset => fineOffset;

    public bool Holds(ReadOnlySpan<byte> slots)
    {
        long value = master.Value(slots);
        return value >= when.From && value <= when.To;
    }
}
