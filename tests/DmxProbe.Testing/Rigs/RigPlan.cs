using System.Globalization;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Testing.Charts;

namespace DmxProbe.Testing.Rigs;

/// <summary>Which units a rig has: 42 of the seven evaluation charts in groups of 3 to 8 on three universes.</summary>
public sealed class RigPlan
{
    /// <summary>Universes that are captured.</summary>
    public const int Captured = 3;

    /// <summary>The universe that nobody captures.</summary>
    public const int Hidden = 3;

    private const int OnSheet = 42;
    private readonly List<RigUnit> _units = [];
    private readonly int[] _next = [1, 1, 1, 1];
    private int _groups;

    /// <summary>Draws a plan.</summary>
    public RigPlan(RigRandom random, bool dense)
    {
        List<ChartMode> types = [.. EvaluationCharts.All.Select(chart => chart.Modes[0])];
        random.Shuffle(types);
        List<int> sizes = Sizes(random);
        for (int g = 0; g < sizes.Count; g++)
        {
            AddGroup(g < types.Count ? types[g] : random.Pick(types), sizes[g], random.Below(Captured), true);
        }

        AddGroup(random.Pick(types), 3 + random.Below(6), Hidden, false);
        for (int u = 0; dense && u < Captured; u++)
        {
            while (AddGroup(random.Pick(types), 3 + random.Below(6), u, false))
            {
                // Until the universe is full.
            }

            while (AddGroup(types.Single(type => type.Footprint == 1), 1, u, false))
            {
                // Single slots to the end.
            }
        }
    }

    /// <summary>All units, those of the sheet first.</summary>
    public IReadOnlyList<RigUnit> Units => _units;

    /// <summary>How many groups there are.</summary>
    public int Groups => _groups;

    private static List<int> Sizes(RigRandom random)
    {
        List<int> sizes = [];
        int left = OnSheet;
        while (left > 0)
        {
            int size = 3 + random.Below(6);
            size = left - size is > 0 and < 3 ? (left > 8 ? left - 3 - random.Below(3) : left) : Math.Min(size, left);
            size = Math.Clamp(size, 3, 8);
            if (left - size is > 0 and < 3)
            {
                size = left - 3;
            }

            sizes.Add(size);
            left -= size;
        }

        return sizes;
    }

    private bool AddGroup(ChartMode mode, int size, int universe, bool onSheet)
    {
        int added = 0;
        for (; added < size && _next[universe] + mode.Footprint - 1 <= 512; added++)
        {
            string name = string.Create(CultureInfo.InvariantCulture, $"LX{_groups + 1}-{added + 1}");
            _units.Add(new RigUnit(name, mode, _groups, universe, _next[universe], onSheet));
            _next[universe] += mode.Footprint;
        }

        _groups += added > 0 ? 1 : 0;
        return added == size;
    }
}
