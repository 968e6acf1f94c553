using DmxProbe.Analysis.Decoding;
using DmxProbe.Cli;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Tui;

/// <summary>The patch sheet as the screen needs it: which universe of the wire is which of the sheet, and whose slots are where.</summary>
internal sealed class ScreenSheet
{
    private readonly SheetInUse? _sheet;
    private readonly string? _map;
    private UniverseMap? _found;
    private int _foundAmong = -1;

    /// <summary>Makes it.</summary>
    /// <param name="sheet">The sheet; null: none was given.</param>
    /// <param name="map">The map as given; null: find it.</param>
    /// <exception cref="UsageException">What was given is no map.</exception>
    public ScreenSheet(SheetInUse? sheet, string? map)
    {
        _sheet = sheet;
        _map = map;
        _found = map is null ? null : UniverseMap.Parse(map);
    }

    /// <summary>The number in the sheet of a universe of the wire; null where it is not known.</summary>
    public int? NumberOf(UniverseId wire, RigPicture picture)
    {
        foreach ((int number, UniverseId id) in Map(picture)?.Wire ?? new Dictionary<int, UniverseId>())
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
        _sheet is null || NumberOf(wire, picture) is not int number
            ? []
            :
            [
                .. _sheet.Patch.Units.Where(unit => unit.Universe == number).OrderBy(unit => unit.Address)
                    .Select(unit => (unit, Math.Max(1, PatchCheck.FootprintOf(unit, _sheet.Charts)))),
            ];

    /// <summary>The unit whose name begins as typed, with its universe on the wire; null when there is none.</summary>
    public (PatchUnit Unit, UniverseId? Wire)? Find(string typed, RigPicture picture)
    {
        PatchUnit? unit = _sheet?.Patch.Find(typed)
            ?? _sheet?.Patch.Units.FirstOrDefault(candidate => candidate.Unit.StartsWith(typed, StringComparison.OrdinalIgnoreCase));
        return unit is null ? null : (unit, Map(picture)?.Wire.TryGetValue(unit.Universe, out UniverseId wire) == true ? wire : null);
    }

    /// <summary>Whether a sheet was given.</summary>
    public bool IsGiven => _sheet is not null;

    private UniverseMap? Map(RigPicture picture)
    {
        // Found anew only when another universe has come up.
        if (_sheet is not null && _map is null && _foundAmong != picture.Universes.Count)
        {
            _found = UniverseMap.Detect(_sheet.Patch.Universes, picture.Universes.Select(universe => universe.Summary.Id), _sheet.Patch.UniverseBase);
            _foundAmong = picture.Universes.Count;
        }

        return _found;
    }
}
