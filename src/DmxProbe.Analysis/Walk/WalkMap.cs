using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Light;

namespace DmxProbe.Analysis.Walk;

/// <summary>Which functions each slot of each universe belongs to.</summary>
internal sealed class WalkMap
{
    private const int Slots = 512;
    private readonly Dictionary<UniverseId, int[][]> _owners = [];

    /// <summary>Lays the units out.</summary>
    public WalkMap(IReadOnlyList<WalkTarget> targets)
    {
        for (int target = 0; target < targets.Count; target++)
        {
            Add(targets[target], target);
        }
    }

    /// <summary>Every function of every unit.</summary>
    public List<WalkFunction> Functions { get; } = [];

    /// <summary>The functions of each slot of a universe, slot 1 first; null when no unit is on it.</summary>
    public int[][]? Of(UniverseId universe) => _owners.GetValueOrDefault(universe);

    private void Add(WalkTarget target, int index)
    {
        Dictionary<int, int> fine = target.Mode is null ? [] : FineSlots.Of(target.Mode);
        HashSet<int> low = [.. fine.Values];
        for (int slot = 1; slot <= target.Footprint; slot++)
        {
            if (low.Contains(slot))
            {
                continue; // belongs to the function of its high byte
            }

            int function = Functions.Count;
            Fixtures.Charts.ChartSlot? chart = target.Mode?.Slots.FirstOrDefault(known => known.Slot == slot);
            Functions.Add(new WalkFunction { Target = index, Slot = slot, Fine = fine.GetValueOrDefault(slot), Chart = chart, VisitedRanges = new bool[chart?.Ranges.Count ?? 0] });
            Place(target, slot, function);
            if (fine.TryGetValue(slot, out int second))
            {
                Place(target, second, function);
            }
        }
    }

    private void Place(WalkTarget target, int slot, int function)
    {
        int place = target.Unit.Address + slot - 2;
        if (target.Universe is not UniverseId universe || place >= Slots)
        {
            return;
        }

        if (!_owners.TryGetValue(universe, out int[][]? slots))
        {
            _owners[universe] = slots = new int[Slots][];
            Array.Fill(slots, []);
        }

        slots[place] = [.. slots[place], function];
    }
}
