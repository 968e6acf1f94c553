using System.Globalization;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch;

/// <summary>A patch sheet: which unit is where. Names are found in any case.</summary>
public sealed class PatchSheet
{
    private const string LineWord = " line ";

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

    /// <summary>
    /// The units a person may mean: those of a name, in the order of the sheet; else, for <c>NAME line 12</c>, the one of that
    /// name on that line of the sheet. Empty when there is none.
    /// </summary>
    /// <param name="wanted">What was typed.</param>
    public IReadOnlyList<PatchUnit> FindAll(string wanted)
    {
        ArgumentNullException.ThrowIfNull(wanted);
        if (_byName.ContainsKey(wanted))
        {
            return [.. Units.Where(unit => unit.Unit.Equals(wanted, StringComparison.OrdinalIgnoreCase))];
        }

        int end = wanted.LastIndexOf(LineWord, StringComparison.OrdinalIgnoreCase);
        return end > 0 && int.TryParse(wanted.AsSpan(end + LineWord.Length), NumberStyles.None, CultureInfo.InvariantCulture, out int line)
            ? [.. Units.Where(unit => unit.Line == line && unit.Unit.AsSpan().Equals(wanted.AsSpan(0, end), StringComparison.OrdinalIgnoreCase))]
            : [];
    }

    /// <summary>The names nearest to one that is not on the sheet, best first; fewer, or none, when nothing is near.</summary>
    public IReadOnlyList<string> NearestNames(string unit, int count)
    {
        ArgumentNullException.ThrowIfNull(unit);
        return Nearest.Of(unit.Length > PatchReader.MaxName ? unit[..PatchReader.MaxName] : unit, _byName.Keys, count);
    }
}
