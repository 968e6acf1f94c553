using System.Globalization;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Locate;
using DmxProbe.Fixtures.Addressing;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Rdm;

/// <summary>
/// What RDM devices say about address and personality, against the patch sheet: who stands where the sheet has nobody, who is
/// missing, who takes another number of slots. A device is taken for the unit whose name it carries as its label; else for
/// the unit at its address; else for one that a known human error leads from to there.
/// </summary>
public sealed class RdmSheetCheck
{
    private const string AddressDiffers = "rdm-address-differs";
    private const int FewestFits = 2;
    private const int LastSlot = 512;
    private readonly PatchSheet _sheet;
    private readonly ChartSet _charts;
    private readonly List<RdmRemark> _remarks = [];
    private readonly List<string> _right = [];
    private int _compared;

    private RdmSheetCheck(PatchSheet sheet, ChartSet charts)
    {
        _sheet = sheet;
        _charts = charts;
    }

    /// <summary>Compares.</summary>
    /// <param name="rdm">What the devices said.</param>
    /// <param name="sheet">The sheet.</param>
    /// <param name="charts">Its charts.</param>
    /// <param name="map">By sheet universe, what it is on the wire.</param>
    public static RdmSheetResult Compare(RdmSnapshot rdm, PatchSheet sheet, ChartSet charts, IReadOnlyDictionary<int, UniverseId> map)
    {
        ArgumentNullException.ThrowIfNull(rdm);
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(charts);
        ArgumentNullException.ThrowIfNull(map);
        RdmSheetCheck check = new(sheet, charts);
        List<(UniverseId, int, bool)> taken = [];
        List<UniverseId> open = [];
        foreach (IGrouping<UniverseId, RdmDevice> devices in rdm.Devices.GroupBy(device => device.Universe))
        {
            int[] told = [.. map.Where(pair => pair.Value == devices.Key).Select(pair => pair.Key).Take(1)];
            RdmPlace[] places = [.. devices.SelectMany(RdmPlace.Of)];
            int? universe = told.Length > 0 ? told[0] : devices.Key.Protocol == UniverseProtocol.ArtNet ? null : check.Likeliest(places);
            if (universe is not int number)
            {
                open.Add(devices.Key);
                continue;
            }

            taken.Add((devices.Key, number, told.Length > 0));
            check.Universe(number, places);
        }

        // A wrong address before a wrong mode: a unit that stands elsewhere is to be found first, and its mode is told there.
        return new RdmSheetResult(
            taken,
            open,
            check._right.Count,
            check._compared,
            [.. check._remarks.OrderByDescending(remark => remark.Severity).ThenBy(remark => remark.Id == AddressDiffers ? 0 : 1)])
        {
            Right = check._right,
        };
    }

    // A line says no number: it is the universe of the sheet whose units stand where most of its devices do.
    private int? Likeliest(IReadOnlyList<RdmPlace> places)
    {
        var fits = _sheet.Universes
            .Select(universe => (Universe: universe, Fits: places.Count(place => _sheet.Units.Any(unit => unit.Universe == universe && IsThere(unit, place)))))
            .OrderByDescending(each => each.Fits)
            .ToArray();
        return fits.Length > 0 && fits[0].Fits >= FewestFits && (fits.Length == 1 || fits[1].Fits < fits[0].Fits) ? fits[0].Universe : null;
    }

    private void Universe(int universe, RdmPlace[] places)
    {
        _compared += places.Length;
        List<RdmPlace> left = [.. places];
        List<PatchUnit> missing = [.. _sheet.Units.Where(unit => unit.Universe == universe)];
        List<PatchUnit> all = [.. missing];
        Labelled(universe, left, missing);

        // First those that are right, so that one in another mode does not take the place of one of a pair that is right.
        foreach (bool exactly in new[] { true, false })
        {
            foreach (RdmPlace place in left.ToArray())
            {
                PatchUnit? unit = missing.FirstOrDefault(candidate => exactly ? IsThere(candidate, place) : candidate.Address == place.Address);
                if (unit is not null)
                {
                    left.Remove(place);
                    missing.Remove(unit);
                    Stands(unit, place, exactly);
                }
            }
        }

        Erred(universe, left, missing);
        foreach (RdmPlace place in left)
        {
            PatchUnit? under = all.FirstOrDefault(unit => unit.Address <= place.Address && place.Address < unit.Address + FootprintOf(unit));
            Add(
                "rdm-not-on-sheet",
                Severity.Warning,
                [],
                place,
                $"{Subject(place)} reads {Place(universe, place)}, where no unit of the sheet starts"
                    + (under is null ? "." : under.Address == place.Address
                        ? $"; {LocateWords.Plain(under.Unit)} stands there already."
                        : $"; the slots are {LocateWords.Plain(under.Unit)}'s ({LocateWords.Address(universe, under.Address)})."),
                "Find the unit (identify it at the RDM controller), and put it on the sheet or set its address.");
        }

        if (missing.Count > 0 && places.Length > 0)
        {
            _remarks.Add(new RdmRemark(
                "rdm-not-heard",
                Severity.Info,
                [.. missing.Select(unit => unit.Unit)],
                "",
                $"No RDM device says that it stands at the place of {Words.List(missing.Select(unit => $"{LocateWords.Plain(unit.Unit)} ({LocateWords.Address(universe, unit.Address)})"))}: without RDM, switched off, or set to another address.",
                ""));
        }
    }

    private void Labelled(int universe, List<RdmPlace> left, List<PatchUnit> missing)
    {
        foreach (RdmPlace place in left.Where(place => place.Part == 0 && place.Device.Label.Length > 0).ToArray())
        {
            if (_sheet.Find(place.Device.Label) is not PatchUnit unit)
            {
                continue;
            }

            left.Remove(place);
            missing.Remove(unit);
            if (unit.Universe == universe && unit.Address == place.Address)
            {
                Stands(unit, place, IsThere(unit, place));
            }
            else
            {
                Differs(unit, place, universe, "which carries its name", Error(unit, universe, place.Address));
            }
        }
    }

    // A unit that the sheet has and nobody stands for, and a device that no unit of the sheet stands for, with a known error between.
    private void Erred(int universe, List<RdmPlace> left, List<PatchUnit> missing)
    {
        var pairs = left
            .SelectMany(place => missing.Where(unit => Fits(unit, place)).Select(unit => (Place: place, Unit: unit, Error: Candidate(unit, universe, place.Address))))
            .Where(pair => pair.Error is not null)
            .OrderByDescending(pair => pair.Error!.Weight);
        foreach ((RdmPlace place, PatchUnit unit, AddressCandidate? error) in pairs.ToArray())
        {
            if (left.Remove(place))
            {
                if (missing.Remove(unit))
                {
                    Differs(unit, place, universe, "which may be it", error!.Explanation);
                }
                else
                {
                    left.Add(place);
                }
            }
        }
    }

    private void Stands(PatchUnit unit, RdmPlace place, bool exactly)
    {
        if (exactly)
        {
            _right.Add(unit.Unit);
            return;
        }

        ChartMode? other = _charts.Find(unit.Type)?.Modes.FirstOrDefault(mode => mode.Footprint == place.Footprint);
        string personality = place.Device.Personality is int number && place.Part == 0
            ? string.Create(CultureInfo.InvariantCulture, $" in personality {number}") + (place.Device.PersonalityName.Length > 0 ? $" '{LocateWords.Plain(place.Device.PersonalityName)}'" : "")
            : "";
        Add(
            "rdm-mode-differs",
            Severity.Fault,
            [unit.Unit],
            place,
            string.Create(CultureInfo.InvariantCulture, $"{LocateWords.Plain(unit.Unit)} at {LocateWords.Address(unit.Universe, unit.Address)} takes {place.Footprint} slots{personality}, by {Subject(place)}; the sheet's mode '{LocateWords.Plain(unit.Mode)}' takes {FootprintOf(unit)}")
                + (other is null ? "." : $": it is in mode '{LocateWords.Plain(other.Name)}'."),
            $"Set {LocateWords.Plain(unit.Unit)} to mode '{LocateWords.Plain(unit.Mode)}', or patch it in the mode it is in if the slots behind it are free.");
    }

    private void Differs(PatchUnit unit, RdmPlace place, int universe, string how, string error) => Add(
        AddressDiffers,
        Severity.Fault,
        [unit.Unit],
        place,
        $"{LocateWords.Plain(unit.Unit)} is at {LocateWords.Address(unit.Universe, unit.Address)} on the sheet; {Subject(place)}, {how}, reads {Place(universe, place)}"
            + (error.Length > 0 ? $": {error}." : "."),
        unit.Universe == universe
            ? $"Set {LocateWords.Plain(unit.Unit)} to {LocateWords.Setting(unit.Address)}; before that nobody at it, it may move or strike."
            : $"Move {LocateWords.Plain(unit.Unit)} to the line of universe {unit.Universe.ToString(CultureInfo.InvariantCulture)}, or change the sheet.");

    private void Add(string id, Severity severity, IReadOnlyList<string> units, RdmPlace place, string text, string action) =>
        _remarks.Add(new RdmRemark(id, severity, units, place.Device.Uid.ToString(), text, action));

    private string Error(PatchUnit unit, int universe, int address) => Candidate(unit, universe, address)?.Explanation ?? "";

    private AddressCandidate? Candidate(PatchUnit unit, int universe, int address) =>
        HumanErrors.Candidates(unit, FootprintOf(unit), _sheet, []).FirstOrDefault(candidate => candidate.Universe == universe && candidate.Address == address && candidate.Mode is null);

    // The device has as many slots as some mode of the unit's type.
    private bool Fits(PatchUnit unit, RdmPlace place) =>
        place.Footprint is not int slots || _charts.Find(unit.Type) is not Chart chart || chart.Modes.Any(mode => mode.Footprint == slots);

    private bool IsThere(PatchUnit unit, RdmPlace place) =>
        unit.Address == place.Address && (place.Footprint is not int slots || _charts.Find(unit.Type, unit.Mode) is not ChartMode mode || mode.Footprint == slots);

    private int FootprintOf(PatchUnit unit) => Math.Clamp(_charts.FootprintOf(unit.Type, unit.Mode), 1, LastSlot);

    private static string Place(int universe, RdmPlace place) => LocateWords.Address(universe, place.Address)
        + (place.Footprint is int slots ? string.Create(CultureInfo.InvariantCulture, $" ({slots} {(slots == 1 ? "slot" : "slots")})") : "");

    private static string Subject(RdmPlace place) => "the RDM device " + LocateWords.Plain(place.Device.Name)
        + (place.Part == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $", part {place.Part}"));
}
