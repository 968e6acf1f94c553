namespace DmxProbe.Fixtures.Charts;

/// <summary>One slot of a mode.</summary>
/// <param name="Slot">Place in the mode, from 1; slot 1 is the start address.</param>
/// <param name="Function">The chart's own word for it, verbatim; untrusted text.</param>
/// <param name="Role">What it does.</param>
/// <param name="Ranges">Its ranges in order; together they cover 0 to 255 without gap or overlap. Where <see cref="Exact"/> says more, their short form.</param>
public sealed record ChartSlot(int Slot, string Function, SlotRole Role, IReadOnlyList<ChartRange> Ranges)
{
    /// <summary>The slots of its low bytes, the most significant first; at most 3, empty for a slot of one byte.</summary>
    public IReadOnlyList<int> LowSlots { get; init; } = [];

    /// <summary>Its ranges in the full width of the slot and its low bytes, with their conditions; empty where <see cref="Ranges"/> says all.</summary>
    public IReadOnlyList<ExactRange> Exact { get; init; } = [];

    /// <summary>The value before anybody touches the slot, 0 to 255; null when the chart does not say.</summary>
    public int? Default { get; init; }

    /// <summary>The cell, pixel or head it belongs to; empty for the whole fixture. Untrusted text.</summary>
    public string Cell { get; init; } = "";

    /// <summary>How many bytes its value has with its low bytes, 1 to 4.</summary>
    public int Bytes => 1 + LowSlots.Count;

    /// <summary>Its value in full width.</summary>
    /// <param name="slots">The slots from the start address on; what is missing counts as 0.</param>
    public long Value(ReadOnlySpan<byte> slots)
    {
        long value = At(slots, Slot);
        foreach (int low in LowSlots)
        {
            value = (value << 8) | At(slots, low);
        }

        return value;
    }

    private static long At(ReadOnlySpan<byte> slots, int slot) => slot - 1 < slots.Length ? slots[slot - 1] : 0;
}
