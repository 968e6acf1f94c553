using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Light;

/// <summary>Finds the slot that a low byte belongs to.</summary>
public static class FineSlots
{
    private static readonly char[] Separators = [' ', '-', '_', '/', '(', ')', '.', ',', '^'];

    /// <summary>Slot of the low byte by slot of the high byte; a low byte whose owner is not plain is left out.</summary>
    /// <param name="mode">The mode.</param>
    public static Dictionary<int, int> Of(ChartMode mode)
    {
        ArgumentNullException.ThrowIfNull(mode);
        Dictionary<int, int> fineOf = mode.Slots.Where(slot => slot.LowSlots.Count > 0).ToDictionary(slot => slot.Slot, slot => slot.LowSlots[0]);
        foreach ((int owner, IReadOnlyList<int> low) in ByName(mode.Slots))
        {
            fineOf.TryAdd(owner, low[0]);
        }

        return fineOf;
    }

    /// <summary>The low bytes by slot of the high byte, the more significant first, as their names tell: "Pan fine", "Pan fine 2".</summary>
    internal static Dictionary<int, IReadOnlyList<int>> ByName(IReadOnlyList<ChartSlot> slots)
    {
        HashSet<int> told = [.. slots.SelectMany(slot => slot.LowSlots)];
        Dictionary<string, int> owners = [];
        foreach (ChartSlot slot in slots.Where(slot => slot.Role != SlotRole.Fine && slot.LowSlots.Count == 0))
        {
            owners.TryAdd(Name(slot.Function).Words, slot.Slot);
        }

        Dictionary<int, SortedDictionary<int, int>> found = [];
        foreach (ChartSlot fine in slots.Where(slot => slot.Role == SlotRole.Fine && !told.Contains(slot.Slot)))
        {
            (string words, int level) = Name(fine.Function);
            int owner = words.Length > 0 ? owners.GetValueOrDefault(words)
                : slots.Any(slot => slot.Slot == fine.Slot - 1 && slot.Role != SlotRole.Fine && slot.LowSlots.Count == 0) ? fine.Slot - 1 : 0;
            if (owner > 0)
            {
                found.TryAdd(owner, []);
                found[owner].TryAdd(level, fine.Slot);
            }
        }

        // A third byte without a second says nothing.
        return found.Where(pair => pair.Value.ContainsKey(1)).ToDictionary(pair => pair.Key, pair => (IReadOnlyList<int>)[.. pair.Value.TakeWhile((low, index) => low.Key == index + 1).Take(3).Select(low => low.Value)]);
    }

    /// <summary>The name without the words that only say which byte it is, and which byte that is: 1 for the next after the high one.</summary>
    private static (string Words, int Level) Name(string function)
    {
        List<string> kept = [];
        int level = 1;
        string[] words = function.ToUpperInvariant().Split(Separators, StringSplitOptions.RemoveEmptyEntries);
        for (int i = 0; i < words.Length; i++)
        {
            if (words[i] is "2" or "3" && i > 0 && words[i - 1] == "FINE")
            {
                level = words[i][0] - '0';
            }
            else if (words[i] is not ("FINE" or "COARSE" or "LSB" or "MSB" or "16BIT" or "16" or "BIT" or "LOW" or "HIGH" or "BYTE"))
            {
                kept.Add(words[i]);
            }
        }

        return (string.Join(' ', kept), level);
    }
}
