using System.Globalization;
using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>Slots as units: those of the sheet, and a number for each slot that belongs to none.</summary>
internal sealed class NightUnits
{
    private const int MostSlots = 512;
    private const int MostNamed = 4;
    private readonly IReadOnlyList<NightUnit> _units;
    private readonly Dictionary<UniverseId, int[]> _bySlot = [];
    private readonly List<UniverseId> _universes = [];
    private readonly Dictionary<UniverseId, int> _numbers = [];

    public NightUnits(IReadOnlyList<NightUnit> units)
    {
        _units = units;
        for (int unit = 0; unit < units.Count; unit++)
        {
            int[] slots = Slots(units[unit].Universe);
            for (int slot = Math.Max(1, units[unit].From); slot <= Math.Min(MostSlots, units[unit].To); slot++)
            {
                slots[slot - 1] = unit;
            }
        }
    }

    /// <summary>Units of the sheet; higher numbers are slots that belong to none.</summary>
    public int Count => _units.Count;

    /// <summary>The unit of a slot.</summary>
    /// <param name="universe">The universe of the wire.</param>
    /// <param name="slot">From 0.</param>
    public int Of(UniverseId universe, int slot)
    {
        int unit = Slots(universe)[slot];
        return unit >= 0 ? unit : _units.Count + (_numbers[universe] * MostSlots) + slot;
    }

    /// <summary>
    /// What a unit is told together with: units of the sheet each by itself; slots without one with their neighbours.
    /// </summary>
    public string GroupOf(int unit, IEnumerable<int> among)
    {
        if (unit < _units.Count)
        {
            return unit.ToString(CultureInfo.InvariantCulture);
        }

        HashSet<int> all = [.. among];
        while (all.Contains(unit - 1) && unit - 1 >= _units.Count)
        {
            unit--;
        }

        return unit.ToString(CultureInfo.InvariantCulture);
    }

    /// <summary>Names of units; of slots without one, ranges.</summary>
    public List<string> Names(IEnumerable<int> units)
    {
        int[] sorted = [.. units.Distinct().Order()];
        List<string> names = [.. sorted.Where(unit => unit < _units.Count).Select(unit => _units[unit].Name)];
        int[] slots = [.. sorted.Where(unit => unit >= _units.Count).Select(unit => unit - _units.Count)];
        for (int i = 0; i < slots.Length;)
        {
            int last = i;
            while (last + 1 < slots.Length && slots[last + 1] - slots[last] <= 4 && slots[last + 1] / MostSlots == slots[i] / MostSlots)
            {
                last++;
            }

            string from = string.Create(CultureInfo.InvariantCulture, $"{_universes[slots[i] / MostSlots].Label} slot{(last == i ? "" : "s")} {(slots[i] % MostSlots) + 1}");
            names.Add(last == i ? from : string.Create(CultureInfo.InvariantCulture, $"{from} to {(slots[last] % MostSlots) + 1}"));
            i = last + 1;
        }

        return names;
    }

    /// <summary>Labels of universes; numbers that follow each other as one range: <c>sACN 1 to 4</c>.</summary>
    public static List<string> Universes(IEnumerable<UniverseId> universes)
    {
        UniverseId[] sorted = [.. universes.Distinct().Order()];
        List<string> labels = [];
        for (int i = 0; i < sorted.Length;)
        {
            int last = i;
            while (last + 1 < sorted.Length && sorted[last + 1].Protocol == sorted[i].Protocol && sorted[last + 1].Number == sorted[last].Number + 1)
            {
                last++;
            }

            const int Fewest = 2; // "sACN 1 to 2" is no shorter than both
            if (last - i >= Fewest && sorted[i].Protocol == UniverseProtocol.Sacn)
            {
                labels.Add(string.Create(CultureInfo.InvariantCulture, $"{sorted[i].Label} to {sorted[last].Number}"));
            }
            else
            {
                labels.AddRange(sorted[i..(last + 1)].Select(universe => universe.Label));
            }

            i = last + 1;
        }

        return labels;
    }

    /// <summary>A list for a sentence, cut where it is long.</summary>
    public static string List(IReadOnlyList<string> names) => names.Count <= MostNamed
        ? string.Join(", ", names)
        : string.Create(CultureInfo.InvariantCulture, $"{string.Join(", ", names.Take(MostNamed))} and {names.Count - MostNamed} more");

    /// <summary>Levels of slots for a sentence: <c>slot 13 at 255, slot 14 at 0</c>.</summary>
    public static string Levels(IReadOnlyList<NightSlotDifference> slots, Func<NightSlotDifference, byte> level)
    {
        string[] words = [.. slots.Take(MostNamed).Select(slot => string.Create(CultureInfo.InvariantCulture, $"slot {slot.Slot} at {level(slot)}"))];
        string more = slots.Count > MostNamed ? string.Create(CultureInfo.InvariantCulture, $" and {slots.Count - MostNamed} more") : "";
        return string.Join(", ", words) + more;
    }

    private int[] Slots(UniverseId universe)
    {
        if (!_bySlot.TryGetValue(universe, out int[]? slots))
        {
            _bySlot[universe] = slots = new int[MostSlots];
            Array.Fill(slots, -1);
            _numbers[universe] = _universes.Count;
            _universes.Add(universe);
        }

        return slots;
    }
}
