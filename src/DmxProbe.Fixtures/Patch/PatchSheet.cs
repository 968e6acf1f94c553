using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch;

/// <summary>A patch sheet: which unit is where. Names are found in any case.</summary>
public sealed class PatchSheet
{
    private readonly Dictionary<string, PatchUnit> _byName = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Makes a sheet; of two units of one name the first is found by it (<see cref="PatchCheck"/> reports the second).</summary>
    public PatchSheet(IReadOnlyList<PatchUnit> units)
    {
        ArgumentNullException.ThrowIfNull(units);
        Units = units;
        foreach (PatchUnit unit in units)
        {
            _byName.TryAdd(unit.Unit, unit);
        }

        Universes = [.. units.Select(unit => unit.Universe).Distinct().Order()];
    }

    /// <summary>The units in the order of the sheet.</summary>
    public IReadOnlyList<PatchUnit> Units { get; }

    /// <summary>The universes in use, by the sheet's own numbering, in order.</summary>
    public IReadOnlyList<int> Universes { get; }

    /// <summary>The number of the sheet's first universe: 1, or 0 where the sheet counts from 0.</summary>
    public int UniverseBase { get; init; } = 1;

    /// <summary>The unit of a name, or null.</summary>
    public PatchUnit? Find(string unit) => _byName.GetValueOrDefault(unit);

    /// <summary>The names nearest to one that is not on the sheet, best first; fewer, or none, when nothing is near.</summary>
    public IReadOnlyList<string> NearestNames(string unit, int count)
    {
        ArgumentNullException.ThrowIfNull(unit);
        return Nearest.Of(unit.Length > PatchReader.MaxName ? unit[..PatchReader.MaxName] : unit, _byName.Keys, count);
    }
}
