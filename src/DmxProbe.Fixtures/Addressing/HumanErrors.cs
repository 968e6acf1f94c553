using System.Globalization;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Addressing;

/// <summary>
/// Where a unit may really be when a person made one of the known errors: a prior for the locating inference, and the
/// words that name the error. Every error here is common practice of the trade, no source. The weights are our own
/// priors, not measured.
/// </summary>
public static class HumanErrors
{
    // Our own priors. They sum to 1 when every kind of error has a candidate; a kind without one keeps its weight to itself,
    // and the inference mixes the list with "anywhere" so that none of this can claim a truth outside it away.
    private const double AsTheSheetSays = 0.25;
    private const double OffByOne = 0.06; // each way
    private const double Others = 0.12; // all units of the sheet together; half of it for the two neighbours
    private const double UniverseOff = 0.03; // each way
    private const double Universe16Off = 0.01; // each way
    private const double OtherUniverses = 0.04; // all together
    private const double OneSwitch = 0.09; // nine switches together
    private const double SwitchesInverted = 0.01;
    private const double SwitchesInvertedFromZero = 0.005; // each of two
    private const double SwitchesReversed = 0.015;
    private const double SwitchesReversedFromZero = 0.005;
    private const double DigitsSwapped = 0.03; // each of two
    private const double DigitOff = 0.04; // all together
    private const double UpsideDown = 0.01; // each of two ways to write it
    private const double FactoryAddress = 0.05;
    private const double Shift = 0.04; // all together, falling with the number of footprints
    private const double OtherModes = 0.05; // all together
    private const int MaxShift = 6;

    /// <summary>The candidates of a unit of a sheet.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="footprint">Its footprint in the sheet's mode, at least 1.</param>
    /// <param name="sheet">The sheet.</param>
    /// <param name="otherModes">Names of the other modes of its type.</param>
    public static IReadOnlyList<AddressCandidate> Candidates(PatchUnit unit, int footprint, PatchSheet sheet, IReadOnlyList<string> otherModes)
    {
        ArgumentNullException.ThrowIfNull(unit);
        ArgumentNullException.ThrowIfNull(sheet);
        return Candidates(unit.Universe, unit.Address, footprint,
            [.. sheet.Units.Where(other => !ReferenceEquals(other, unit)).Select(other => new OtherAddress(other.Unit, other.Universe, other.Address))], otherModes);
    }

    /// <summary>The candidates for a place on a sheet, heaviest first; the sheet's own place is among them.</summary>
    /// <param name="universe">The sheet's universe, not negative.</param>
    /// <param name="address">The sheet's address, 1 to 512.</param>
    /// <param name="footprint">Footprint in the sheet's mode, at least 1.</param>
    /// <param name="others">The other units of the sheet.</param>
    /// <param name="otherModes">Names of the other modes of the type.</param>
    public static IReadOnlyList<AddressCandidate> Candidates(int universe, int address, int footprint, IReadOnlyList<OtherAddress> others, IReadOnlyList<string> otherModes)
    {
        ArgumentNullException.ThrowIfNull(others);
        ArgumentNullException.ThrowIfNull(otherModes);
        ArgumentOutOfRangeException.ThrowIfNotEqual(address is >= 1 and <= 512, true, nameof(address));
        ArgumentOutOfRangeException.ThrowIfLessThan(footprint, 1);
        CandidateList list = new();
        list.Add(universe, address, null, "as the sheet says", AsTheSheetSays);
        list.Add(universe, address + 1, null, "one too high: the unit counts from 0", OffByOne);
        list.Add(universe, address - 1, null, "one too low: 1 was taken off, as for a unit that counts from 0", OffByOne);
        list.Add(universe, 1, null, "still at address 1, as it comes from the factory", FactoryAddress);
        foreach (string mode in otherModes)
        {
            list.Add(universe, address, mode, "the right address, but in mode " + Shown.Quoted(mode), OtherModes / otherModes.Count);
        }

        AddSwitches(list, universe, address);
        AddDigits(list, universe, address);
        AddShifts(list, universe, address, footprint);
        AddUniverses(list, universe, address, others);
        AddOthers(list, universe, address, others);
        return list.Sorted();
    }

    private static void AddSwitches(CandidateList list, int universe, int address)
    {
        for (int number = 1; number <= DipSwitches.Count; number++)
        {
            int weight = DipSwitches.WeightOf(number);
            list.Add(universe, address ^ weight, null, string.Create(CultureInfo.InvariantCulture,
                $"one address switch is wrong: switch {number} (counts {weight}) is {((address & weight) != 0 ? "off instead of ON" : "ON instead of off")}"), OneSwitch / DipSwitches.Count);
        }

        const string Inverted = "ON and OFF exchanged on the switch bank", Reversed = "read from the wrong end of the switch bank", FromZero = ", on a unit that counts from 0";
        list.Add(universe, Misreadings.Inverted(address), null, Inverted, SwitchesInverted);
        list.Add(universe, Misreadings.Inverted(address) + 1, null, Inverted + FromZero, SwitchesInvertedFromZero);
        list.Add(universe, Misreadings.Inverted(address - 1) + 1, null, Inverted + FromZero + " and was set one lower", SwitchesInvertedFromZero);
        list.Add(universe, Misreadings.Reversed(address), null, Reversed, SwitchesReversed);
        list.Add(universe, Misreadings.Reversed(address - 1) + 1, null, Reversed + FromZero, SwitchesReversedFromZero);
    }

    private static void AddDigits(CandidateList list, int universe, int address)
    {
        foreach (int swapped in Misreadings.Swapped(address))
        {
            list.Add(universe, swapped, null, "digits swapped", DigitsSwapped);
        }

        List<int> near = [.. Misreadings.OneDigitOff(address).Where(CandidateList.IsAddress)];
        foreach (int other in near)
        {
            list.Add(universe, other, null, "one digit is wrong", DigitOff / near.Count);
        }

        string plain = address.ToString(CultureInfo.InvariantCulture), padded = address.ToString("000", CultureInfo.InvariantCulture);
        foreach (string shown in new[] { plain, padded }.Distinct())
        {
            if (Misreadings.UpsideDown(shown) is { } turned)
            {
                list.Add(universe, turned, null, "display read upside down", UpsideDown);
            }
        }
    }

    private static void AddShifts(CandidateList list, int universe, int address, int footprint)
    {
        // Each way falls as 1/k: one unit's slip is likelier than six.
        double sum = 2 * Enumerable.Range(1, MaxShift).Sum(k => 1.0 / k);
        for (int k = 1; k <= MaxShift; k++)
        {
            string by = k == 1 ? "one unit" : Shown.Number(k) + " units";
            list.Add(universe, address + (k * footprint), null, "shifted up by " + by + ": a footprint before it is wrong on the sheet", Shift / k / sum);
            list.Add(universe, address - (k * footprint), null, "shifted down by " + by + ": a footprint before it is wrong on the sheet", Shift / k / sum);
        }
    }

    private static void AddUniverses(CandidateList list, int universe, int address, IReadOnlyList<OtherAddress> others)
    {
        const string Counting = "the universe is numbered from 0 in one place and from 1 in another";
        const string Sixteen = "the universe is off by 16: typed into the wrong box of Net, Sub-Net and Universe";
        list.Add(universe + 1, address, null, Counting, UniverseOff);
        list.Add(universe - 1, address, null, Counting, UniverseOff);
        list.Add(universe + 16, address, null, Sixteen, Universe16Off);
        list.Add(universe - 16, address, null, Sixteen, Universe16Off);
        List<int> universes = [.. others.Select(other => other.Universe).Where(other => other != universe).Distinct()];
        foreach (int other in universes)
        {
            list.Add(other, address, null, string.Create(CultureInfo.InvariantCulture, $"plugged into the line of universe {other}"), OtherUniverses / universes.Count);
        }
    }

    private static void AddOthers(CandidateList list, int universe, int address, IReadOnlyList<OtherAddress> others)
    {
        OtherAddress[] neighbours = [.. new[]
        {
            others.Where(other => other.Universe == universe && other.Address < address).Select(other => (OtherAddress?)other).MaxBy(other => other!.Value.Address),
            others.Where(other => other.Universe == universe && other.Address > address).Select(other => (OtherAddress?)other).MinBy(other => other!.Value.Address),
        }.OfType<OtherAddress>()];
        foreach (OtherAddress other in neighbours)
        {
            list.Add(other.Universe, other.Address, null, "has the address of its neighbour " + Shown.Quoted(other.Unit), Others / 4);
        }

        List<OtherAddress> places = [.. others.Where(other => other.Universe != universe || other.Address != address).DistinctBy(other => (other.Universe, other.Address))];
        foreach (OtherAddress other in places)
        {
            list.Add(other.Universe, other.Address, null, "has the address of " + Shown.Quoted(other.Unit), Others / 2 / places.Count);
        }
    }
}
