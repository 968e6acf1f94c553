using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Light;

/// <summary>Finds the slot that a low byte belongs to.</summary>
public static class FineSlots
{
    private static readonly char[] Separators = [' ', '-', '_', '/', '(', ')', '.', ','];

    /// <summary>Slot of the low byte by slot of the high byte; a low byte whose owner is not plain is left out.</summary>
    /// <param name="mode">The mode.</param>
    public static Dictionary<int, int> Of(ChartMode mode)
    {
        ArgumentNullException.ThrowIfNull(mode);
        Dictionary<int, int> fineOf = [];
        foreach (ChartSlot fine in mode.Slots.Where(slot => slot.Role == SlotRole.Fine))
        {
            string name = Words(fine.Function);
            ChartSlot? owner = mode.Slots.FirstOrDefault(slot => slot.Role != SlotRole.Fine &&
                (name.Length == 0 ? slot.Slot == fine.Slot - 1 : Words(slot.Function) == name));
            if (owner is not null)
            {
                fineOf.TryAdd(owner.Slot, fine.Slot);
            }
        }

        return fineOf;
    }

    /// <summary>The name without the words that only say which byte it is.</summary>
    private static string Words(string function) => string.Join(' ', function.ToUpperInvariant()
        .Split(Separators, StringSplitOptions.RemoveEmptyEntries)
        .Where(word => word is not ("FINE" or "COARSE" or "LSB" or "MSB" or "16BIT" or "16" or "BIT" or "LOW" or "HIGH" or "BYTE")));
}
