using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

using Parquet.Schema;

namespace DmxProbe.Reporting.Archive;

/// <summary>The table <c>units</c>: the patch sheet of a recording, by what each unit is on the wire.</summary>
public static class UnitsTable
{
    /// <summary>Writes the units of a sheet whose universe is known.</summary>
    /// <param name="show">What the recording is of.</param>
    /// <param name="first">Its first moment.</param>
    /// <param name="units">The units.</param>
    /// <param name="charts">Their charts.</param>
    /// <param name="map">Which universe of the wire each universe of the sheet is.</param>
    /// <param name="create">Makes the file.</param>
    public static void Write(
        ArchiveShow show,
        Timestamp first,
        IEnumerable<PatchUnit> units,
        ChartSet charts,
        IReadOnlyDictionary<int, UniverseId> map,
        Func<ArchivePlace, Stream> create)
    {
        ArgumentNullException.ThrowIfNull(create);
        PatchUnit[] known = [.. units.Where(unit => map.ContainsKey(unit.Universe))];
        if (known.Length == 0)
        {
            return;
        }

        using ParquetTable table = new(
            create(ArchivePlace.Of("units", show, first)),
            LevelsTable.Text("recording"),
            LevelsTable.Text("unit"),
            LevelsTable.Text("type"),
            LevelsTable.Text("mode"),
            LevelsTable.Text("universe"),
            new DataField<int>("address"),
            new DataField<int>("slots"),
            new DataField<int>("intensity_slot"));
        table.Write(columns =>
        {
            columns.Texts(ParquetColumns.Same(show.Recording, known.Length));
            columns.Texts([.. known.Select(unit => unit.Unit)]);
            columns.Texts([.. known.Select(unit => unit.Type)]);
            columns.Texts([.. known.Select(unit => unit.Mode)]);
            columns.Texts([.. known.Select(unit => ArchiveNames.Of(map[unit.Universe]))]);
            columns.Numbers(known.Select(unit => unit.Address).ToArray());
            columns.Numbers(known.Select(unit => PatchCheck.FootprintOf(unit, charts)).ToArray());
            columns.Numbers(known.Select(unit => Intensity(unit, charts)).ToArray());
        });
        table.Close();
    }

    // 0 where the chart has none: the light is then made by its colours.
    private static int Intensity(PatchUnit unit, ChartSet charts) =>
        charts.Find(unit.Type, unit.Mode)?.Slots.FirstOrDefault(slot => slot.Role == SlotRole.Intensity) is { } slot ? unit.Address + slot.Slot - 1 : 0;
}
