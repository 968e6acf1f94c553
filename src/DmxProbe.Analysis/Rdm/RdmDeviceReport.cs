using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Locate;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Rdm;

namespace DmxProbe.Analysis.Rdm;

/// <summary>
/// What RDM says about where a unit reads, as evidence for locating. The device is the unit's by its UID where a person gives it,
/// by its label where that is the unit's name; else it may be any device with as many slots as one of the unit's modes that
/// does not stand where the sheet has another unit with such a mode. How far each is trusted is our own prior, not measured.
/// </summary>
public static class RdmDeviceReport
{
    /// <summary>Trust in the report of a device that a person named by its UID.</summary>
    public const double Told = 0.99;

    /// <summary>Trust in the report of a device that carries the unit's name.</summary>
    public const double Labelled = 0.95;

    /// <summary>How likely the unit is among the devices that nobody else can be.</summary>
    public const double Unclaimed = 0.5;

    private const int MostDevices = 8;

    /// <summary>Finds it.</summary>
    /// <param name="rdm">What the devices said; null where there was no RDM.</param>
    /// <param name="sheet">The sheet.</param>
    /// <param name="charts">Its charts.</param>
    /// <param name="unit">The unit asked about.</param>
    /// <param name="modes">The modes that are open.</param>
    /// <param name="universes">The universe of each history.</param>
    /// <param name="map">By sheet universe, what it is on the wire.</param>
    /// <param name="uid">The unit's UID; null where nobody told it.</param>
    /// <returns>At most one report; empty where RDM says nothing about the unit.</returns>
    public static IReadOnlyList<LocateReport> For(
        RdmSnapshot? rdm,
        PatchSheet sheet,
        ChartSet charts,
        PatchUnit unit,
        IReadOnlyList<ChartMode> modes,
        IReadOnlyList<UniverseId> universes,
        IReadOnlyDictionary<int, UniverseId> map,
        RdmUid? uid)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(charts);
        ArgumentNullException.ThrowIfNull(unit);
        ArgumentNullException.ThrowIfNull(modes);
        ArgumentNullException.ThrowIfNull(universes);
        ArgumentNullException.ThrowIfNull(map);
        RdmDevice[] placed = [.. (rdm?.Devices ?? []).Where(device => device.StartAddress is > 0)];
        if (uid is RdmUid told)
        {
            return Report([.. placed.Where(device => device.Uid == told)], "whose UID was given", true, Told);
        }

        RdmDevice[] labelled = [.. placed.Where(device => device.Label.Equals(unit.Unit, StringComparison.OrdinalIgnoreCase))];
        if (labelled.Length > 0)
        {
            return Report(labelled, "which carries the unit's name", true, Labelled);
        }

        RdmDevice[] free = [.. placed.Where(device => sheet.Find(device.Label) is null && modes.Any(mode => device.Footprint is null || mode.Footprint == device.Footprint) && !IsAnothers(device))];
        return free.Length is > 0 and <= MostDevices
            ? Report(free, free.Length == 1 ? "which no other unit of the sheet stands for" : "which no other units of the sheet stand for", false, Unclaimed)
            : [];

        bool IsAnothers(RdmDevice device) => sheet.Units.Any(other => other != unit
            && other.Address == device.StartAddress
            && (IsLocal(device.Universe) || (map.TryGetValue(other.Universe, out UniverseId wire) && wire == device.Universe))
            && (device.Footprint is null || (charts.Find(other.Type)?.Modes.Any(mode => mode.Footprint == device.Footprint) ?? true)));

        IReadOnlyList<LocateReport> Report(RdmDevice[] devices, string how, bool isIdentified, double trust)
        {
            Hypothesis[] places = [.. devices.SelectMany(device => Places(device, modes, universes)).Distinct()];
            if (places.Length == 0)
            {
                return [];
            }

            string text = devices.Length == 1
                ? $"RDM: {LocateWords.Plain(devices[0].Name)}, {how}, reports {Where(devices[0])}"
                : $"RDM: {string.Join(" and ", devices.Select(device => $"{LocateWords.Plain(device.Name)} reports {Where(device)}"))}, {how}";
            return [new LocateReport(text, devices.Length == 1 ? Where(devices[0]) : "", isIdentified, trust, places)];
        }
    }

    // A line has no number of its own: its device may read any of the universes.
    private static IEnumerable<Hypothesis> Places(RdmDevice device, IReadOnlyList<ChartMode> modes, IReadOnlyList<UniverseId> universes) =>
        from history in Enumerable.Range(0, universes.Count)
        where IsLocal(device.Universe) || universes[history] == device.Universe
        from mode in Enumerable.Range(0, modes.Count)
        where device.Footprint is null || modes[mode].Footprint == device.Footprint
        select new Hypothesis(history, device.StartAddress!.Value, mode);

    private static bool IsLocal(UniverseId universe) => universe.Protocol is UniverseProtocol.Line or UniverseProtocol.Serial;

    private static string Where(RdmDevice device) => string.Create(
        CultureInfo.InvariantCulture,
        $"{device.Universe.Label} slot {device.StartAddress:000}{(device.Footprint is int slots ? $" with {slots} slots" : "")}");
}
