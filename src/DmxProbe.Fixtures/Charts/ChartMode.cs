namespace DmxProbe.Fixtures.Charts;

/// <summary>One mode (personality) of a fixture type.</summary>
/// <param name="Name">Its name; untrusted text.</param>
/// <param name="Slots">Its slots in order; slots the chart does not mention are absent and count as unknown.</param>
/// <param name="Footprint">How many slots it takes, from the start address.</param>
public sealed record ChartMode(string Name, IReadOnlyList<ChartSlot> Slots, int Footprint)
{
    /// <summary>
    /// What the chart says about the present value of a slot: its low bytes and the slots that other ranges depend on
    /// are taken into account. Null when it says nothing, which counts as unknown.
    /// </summary>
    /// <param name="slot">The slot, from 1.</param>
    /// <param name="slots">The slots from the start address on; what is missing counts as 0.</param>
    public ChartRange? RangeAt(int slot, ReadOnlySpan<byte> slots)
    {
        if (Find(slot) is not { } chart)
        {
            return null;
        }

        long value = chart.Value(slots);
        if (chart.Exact.Count == 0)
        {
            long high = value >> (8 * chart.LowSlots.Count);
            return chart.Ranges.FirstOrDefault(range => high >= range.From && high <= range.To);
        }

        ExactRange? found = null;
        foreach (ExactRange range in chart.Exact)
        {
            if (value >= range.From && value <= range.To && (range.When is null ? found is null : Holds(range.When, slots)))
            {
                found = range;
                if (range.When is not null)
                {
                    break;
                }
            }
        }

        int shift = 8 * chart.LowSlots.Count;
        return found is null ? null : new ChartRange((int)(found.From >> shift), (int)(found.To >> shift), found.Meaning, found.Effect);
    }

    /// <summary>A slot by its number, or null.</summary>
    public ChartSlot? Find(int slot)
    {
        // Slots stand in order and mostly without holes: look where it should be first.
        return slot >= 1 && slot <= Slots.Count && Slots[slot - 1].Slot == slot ? Slots[slot - 1] : Slots.FirstOrDefault(known => known.Slot == slot);
    }

    private bool Holds(SlotCondition when, ReadOnlySpan<byte> slots) =>
        Find(when.Slot) is { } master && master.Value(slots) is var value && value >= when.From && value <= when.To;
}
