using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Tui;

namespace DmxProbe.Cli;

/// <summary>Whose slots are where in a recording, by the patch sheet.</summary>
internal sealed class ReviewSheet
{
    private readonly ScreenSheet _sheet;
    private readonly UniverseMap? _map;

    /// <summary>Makes it.</summary>
    /// <param name="sheet">The sheet; may be none.</param>
    /// <param name="recorded">Universes of the recording.</param>
    public ReviewSheet(ScreenSheet sheet, IEnumerable<UniverseId> recorded)
    {
        _sheet = sheet;
        _map = sheet.MapAmong(recorded);
    }

    /// <summary>The units of a universe by address, each with its slots; empty where the sheet knows nothing of it.</summary>
    public IReadOnlyList<(PatchUnit Unit, int Slots)> UnitsOf(UniverseId wire)
    {
        foreach ((int number, UniverseId id) in _map?.Wire ?? new Dictionary<int, UniverseId>())
        {
            if (id == wire)
            {
                return _sheet.UnitsOf(number);
            }
        }

        return [];
    }

    /// <summary>Where a unit is.</summary>
    /// <param name="name">Its name.</param>
    /// <exception cref="UsageException">The sheet has none of that name, or its universe was not found in the recording.</exception>
    public (PatchUnit Unit, UniverseId Universe) Find(string name)
    {
        PatchUnit unit = _sheet.Find(name)
            ?? throw new UsageException($"--unit: the sheet has no unit '{name}'; patch check lists its units");
        return _map!.Wire.TryGetValue(unit.Universe, out UniverseId wire)
            ? (unit, wire)
            : throw new UsageException($"--unit: {unit.Unit} is on universe {unit.Universe} of the sheet, and which universe of this recording that is, was not found: is it the sheet of this show? Say it with --map, as in --map {unit.Universe}=sacn:{unit.Universe}");
    }

    /// <summary>What a slot is called: its function, or its number in the unit.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="slot">Slot of the universe, from 1.</param>
    public string Function(PatchUnit unit, int slot)
    {
        int own = slot - unit.Address + 1;
        return _sheet.ModeOf(unit)?.Find(own)?.Function is { Length: > 0 } function ? function : $"slot {own}";
    }

    /// <summary>The unit and function of a slot; empty where no unit has it.</summary>
    public string About(UniverseId universe, int slot) => UnitsOf(universe).FirstOrDefault(each => slot >= each.Unit.Address && slot < each.Unit.Address + each.Slots) is { Unit: PatchUnit unit }
        ? $"{unit.Unit}, {Function(unit, slot)}"
        : "";
}
