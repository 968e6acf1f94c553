using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Explain;
using DmxProbe.Analysis.Walk;
using DmxProbe.Cli;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Tui;

/// <summary>The patch sheet as the screen needs it: which universe of the wire is which of the sheet, and whose slots are where. Immutable.</summary>
internal sealed class ScreenSheet
{
    private readonly SheetInUse? _sheet;
    private readonly UniverseMap? _given;
    private readonly Dictionary<int, (PatchUnit Unit, int Slots)[]> _units;

    /// <summary>Makes it.</summary>
    /// <param name="sheet">The sheet; null: none was given.</param>
    /// <param name="map">The map as given; null: find it.</param>
    /// <exception cref="UsageException">What was given is no map.</exception>
    public ScreenSheet(SheetInUse? sheet, string? map)
    {
        _sheet = sheet;
        _given = UniverseMap.Given(map, sheet?.Patch);
        _units = (sheet?.Patch.Units ?? []).GroupBy(unit => unit.Universe).ToDictionary(
            universe => universe.Key,
            universe => universe.OrderBy(unit => unit.Address).Select(unit => (unit, Math.Max(1, PatchCheck.FootprintOf(unit, sheet!.Charts)))).ToArray());
    }

    /// <summary>Whether a sheet was given.</summary>
    public bool IsGiven => _sheet is not null;

    /// <summary>The map as given, or as found among what is heard; null without a sheet.</summary>
    public UniverseMap? MapAmong(IEnumerable<UniverseId> heard) =>
        _sheet is null ? null : UniverseMap.Detect(_sheet.Patch.Universes, heard, _sheet.Patch.UniverseBase, _given);

    /// <summary>The number in the sheet of a universe of the wire; null where it is not known.</summary>
    public static int? NumberOf(UniverseId wire, RigPicture picture)
    {
        if (picture.Map is null)
        {
            return null;
        }

        foreach ((int number, UniverseId id) in picture.Map.Wire)
        {
            if (id == wire)
            {
                return number;
            }
        }

        return null;
    }

    /// <summary>The units of a universe by address, each with how many slots it takes.</summary>
    public IReadOnlyList<(PatchUnit Unit, int Slots)> UnitsOf(UniverseId wire, RigPicture picture) =>
        NumberOf(wire, picture) is int number ? UnitsOf(number) : [];

    /// <summary>The units of a universe of the sheet by address, each with how many slots it takes.</summary>
    public IReadOnlyList<(PatchUnit Unit, int Slots)> UnitsOf(int number) => _units.GetValueOrDefault(number, []);

    /// <summary>Every unit that has a chart, with the universes it may be on.</summary>
    public IEnumerable<TracedUnit> Traced()
    {
        foreach (PatchUnit unit in _sheet?.Patch.Units ?? [])
        {
            if (_sheet!.Charts.Find(unit.Type, unit.Mode) is ChartMode mode)
            {
                HashSet<UniverseId> universes = [.. UniverseMap.Choices(unit.Universe, _sheet.Patch.UniverseBase, _given)];
                yield return new TracedUnit(unit, mode, universes);
            }
        }
    }

    /// <summary>The units for the function check, each where the map has it; null without a sheet.</summary>
    public IReadOnlyList<WalkTarget>? Targets(UniverseMap? map) => _sheet is null || map is null ? null : WalkRun.Targets(_sheet, map);

    /// <summary>The mode of a unit; null where its chart is not there.</summary>
    public ChartMode? ModeOf(PatchUnit unit) => _sheet?.Charts.Find(unit.Type, unit.Mode);

    /// <summary>The unit of a name; null when the sheet has none.</summary>
    public PatchUnit? Find(string name) => _sheet?.Patch.Find(name);

    /// <summary>The unit whose name is, begins or ends as typed: <c>1-6</c> finds LX1-6 when no other unit ends so.</summary>
    public PatchUnit? FindTyped(string typed)
    {
        if (_sheet is null)
        {
            return null;
        }

        PatchUnit[] ending = [.. _sheet.Patch.Units.Where(unit => unit.Unit.EndsWith(typed, StringComparison.OrdinalIgnoreCase)).Take(2)];
        return _sheet.Patch.Find(typed)
            ?? _sheet.Patch.Units.FirstOrDefault(unit => unit.Unit.StartsWith(typed, StringComparison.OrdinalIgnoreCase))
            ?? (ending.Length == 1 ? ending[0] : null);
    }

    /// <summary>The unit before or after one, by universe and address.</summary>
    public PatchUnit? Beside(string name, int step)
    {
        List<PatchUnit> all = [.. (_sheet?.Patch.Units ?? []).OrderBy(unit => unit.Universe).ThenBy(unit => unit.Address)];
        int at = all.FindIndex(unit => unit.Unit == name);
        return at < 0 ? null : all[Math.Clamp(at + step, 0, all.Count - 1)];
    }
}
