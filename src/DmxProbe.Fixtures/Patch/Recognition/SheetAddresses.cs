using System.Globalization;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch.Recognition;

/// <summary>
/// Decides once for a whole sheet what its addresses mean: whether a dash is a range, whether decimals lost their zeros,
/// from where universes count, whether addresses count through all universes. Then places each line.
/// </summary>
internal sealed class SheetAddresses
{
    private const int Slots = 512;
    private const int Padded = 3;
    private readonly bool _padded;
    private readonly bool _dashIsRange;
    private readonly int _base;
    private int _universeLine;

    private SheetAddresses(bool padded, bool dashIsRange, int universeBase)
    {
        _padded = padded;
        _dashIsRange = dashIsRange;
        _base = universeBase;
    }

    /// <summary>The number of the first universe, 0 or 1.</summary>
    public int UniverseBase => _base;

    /// <summary>What was decided, a sentence each.</summary>
    public List<string> Notes { get; } = [];

    /// <summary>Decides; null and the question when the sheet does not say.</summary>
    public static SheetAddresses? Decide(IReadOnlyList<SheetLine> lines, bool universeColumn, PatchReadOptions options, out TableProblem? question)
    {
        List<string> notes = [];
        bool? range = DashIsRange(lines, universeColumn, options, out question);
        int? first = question is null ? Base(lines, options, notes, out question) : null;
        if (range is null || first is null)
        {
            return null;
        }

        if (lines.Any(line => line.Address.IsDashPair))
        {
            notes.Add(range.Value ? "1-16 is a range of slots (the other reading: --dash universe)" : "1-16 is universe 1, address 16 (the other reading: --dash range)");
        }

        // 1.1 beside 1.001 and 1.121: a spreadsheet dropped zeros at the end, for with three digits a short one cannot have been typed.
        SheetLine[] decimals = [.. lines.Where(line => line.Address is { Separator: '.' or ',', Universe.Length: > 0 })];
        bool padded = Array.Exists(decimals, line => line.Address is { Digits: Padded, Address: < 100 }) &&
            Array.Exists(decimals, line => line.Address.Digits < Padded && line.Row.Doubts is null && line.Address.Digits > 0);
        bool allPadded = padded && decimals.Count(line => line.Address.Digits == Padded) * 2 > decimals.Length;
        if (allPadded)
        {
            notes.Add($"addresses have three digits; zeros lost at the end are put back (line {Shown.Number(Array.Find(decimals, line => line.Address.Digits < Padded)!.Row.Line)})");
        }

        SheetAddresses decided = new(allPadded, range.Value, first.Value);
        decided.Notes.AddRange(notes);
        return decided;
    }

    /// <summary>Places a line; null when it has no place, with the problem.</summary>
    public (int Universe, int Address, int Footprint)? Place(SheetLine line, UniverseText? above, (string Address, string Universe) columns, ProblemList problems)
    {
        AddressText text = line.Address;
        bool dashRange = text.IsDashPair && _dashIsRange;
        int address = dashRange ? int.Parse(text.Universe, NumberStyles.None, CultureInfo.InvariantCulture) : text.Address;
        int last = dashRange ? text.Address : text.Last;
        if (_padded && !dashRange && text.Universe.Length > 0 && text.Separator is '.' or ',')
        {
            for (int digits = text.Digits; digits < Padded; digits++)
            {
                address *= 10;
            }
        }

        UniverseText? own = line.Universe;
        if (text.Universe.Length > 0 && !dashRange)
        {
            if (!UniverseText.TryParse(text.Universe, out UniverseText within))
            {
                problems.Add(OfAddress("not an address", line, columns.Address, "Net 0 to 127, Sub-Net and Universe 0 to 15 as in 0:0:1/121", "correct it"));
                return null;
            }

            if (own is UniverseText stated && Number(stated) != Number(within))
            {
                problems.Add(OfUniverse("two universes for one unit", line, columns.Universe, Shown.Number(Number(within)) + " as in the address, or nothing", "say which is right"));
                return null;
            }

            own = within;
        }

        int universe;
        bool absolute = address > Slots && text.Universe.Length == 0 | dashRange && address <= Slots * PatchReader.MaxUniverse;
        if (absolute)
        {
            universe = ((address - 1) / Slots) + _base;
            if (own is UniverseText stated && Number(stated) != universe)
            {
                problems.Add(OfAddress("two universes for one unit", line, columns.Address,
                    $"1 to 512 in universe {Shown.Number(Number(stated))}, or {Shown.Number(address)} in universe {Shown.Number(universe)}", "say which is right"));
                return null;
            }

            last = last > address ? last - address + ((address - 1) % Slots) + 1 : last;
            address = ((address - 1) % Slots) + 1;
            _ = _universeLine == 0 ? _universeLine = line.Row.Line : 0;
        }
        else
        {
            universe = own is UniverseText said ? Number(said) : above is UniverseText filled ? Number(filled) : _base;
        }

        if (address is < 1 or > Slots || (last != 0 && last < address) || universe < 0 || universe > PatchReader.MaxUniverse)
        {
            problems.Add(universe < 0 || universe > PatchReader.MaxUniverse
                ? OfUniverse("a universe out of range", line, columns.Universe, $"0 to {Shown.Number(PatchReader.MaxUniverse)}", "use the sheet's own number of the universe")
                : OfAddress("not an address", line, columns.Address, last != 0 && last < address ? "a range from low to high" : "1 to 512, or universe.address as in 2.061", "correct it, or put # in front of the line to leave it out"));
            return null;
        }

        return (universe, address, last == 0 ? 0 : last - address + 1);
    }

    /// <summary>What is to be said after all lines are placed.</summary>
    public void Finish(bool universeColumn, IReadOnlyList<SheetLine> lines)
    {
        bool letters = lines.Any(line => line.Universe?.Kind == UniverseSpelling.Letter || (line.Address.Universe.Length == 1 && char.IsAsciiLetter(line.Address.Universe[0])));
        string first = Shown.Number(_base);
        if (letters)
        {
            Notes.Add($"universe A is {first} (the other reading: --universe-base {Shown.Number(1 - _base)})");
        }

        if (_universeLine > 0)
        {
            Notes.Add($"addresses above 512 count through all universes, the first is {first} (first on line {Shown.Number(_universeLine)})");
        }
        else if (!universeColumn && lines.Count > 0 && lines.All(line => line.Universe is null && line.Address.Universe.Length == 0))
        {
            Notes.Add($"no universe is given: all units are taken to be in universe {first}");
        }
    }

    /// <summary>The number of a universe by this sheet's counting.</summary>
    private int Number(UniverseText universe) => universe.Kind == UniverseSpelling.Number ? universe.Number : universe.Number + _base;

    private static TableProblem OfAddress(string what, SheetLine line, string column, string expected, string advice) =>
        new(what, line.Row.Line, column, expected, Shown.Cell(line.AddressCell), advice);

    private static TableProblem OfUniverse(string what, SheetLine line, string column, string expected, string advice) =>
        new(what, line.Row.Line, column, expected, Shown.Cell(line.UniverseCell.Length > 0 ? line.UniverseCell : line.AddressCell), advice);

    private static bool? DashIsRange(IReadOnlyList<SheetLine> lines, bool universeColumn, PatchReadOptions options, out TableProblem? question)
    {
        question = null;
        AddressText[] pairs = [.. lines.Select(line => line.Address).Where(address => address.IsDashPair)];
        if (options.DashIsRange is bool said || pairs.Length == 0)
        {
            return options.DashIsRange ?? true;
        }

        bool canBeRanges = pairs.All(pair => First(pair) <= pair.Address && First(pair) > 0);
        bool canBeUniverses = pairs.All(pair => pair.Address is >= 1 and <= Slots) && !universeColumn;
        if (canBeRanges != canBeUniverses)
        {
            return canBeRanges;
        }

        if (canBeRanges)
        {
            // Both fit. A sheet that names one universe for every unit, or ranges that all start at 1, are equally absurd.
            int universes = pairs.Select(First).Distinct().Count();
            if (pairs.Length >= 4 && universes * 2 >= pairs.Length)
            {
                return true;
            }

            if (pairs.Length >= 4 && universes * 4 <= pairs.Length)
            {
                return false;
            }
        }

        SheetLine example = lines.First(line => line.Address.IsDashPair);
        question = new TableProblem("does the dash in an address mean a range of slots or universe-address", example.Row.Line, "",
            $"slots {example.Address.Universe} to {Shown.Number(example.Address.Address)}, or universe {example.Address.Universe} address {Shown.Number(example.Address.Address)}",
            Shown.Cell(example.AddressCell), "say which with --dash range or --dash universe");
        return null;
    }

    private static int First(AddressText pair) => int.Parse(pair.Universe, NumberStyles.None, CultureInfo.InvariantCulture);

    private static int? Base(IReadOnlyList<SheetLine> lines, PatchReadOptions options, List<string> notes, out TableProblem? question)
    {
        question = null;
        SheetLine? net = null, number = null, zero = null;
        Dictionary<string, int> protocols = [];
        foreach (SheetLine line in lines)
        {
            UniverseText? universe = line.Universe ?? (!line.Address.IsDashPair && UniverseText.TryParse(line.Address.Universe, out UniverseText within) ? within : null);
            if (universe is UniverseText said)
            {
                net ??= said.Kind == UniverseSpelling.NetSubUniverse ? line : null;
                number ??= said.Kind == UniverseSpelling.Number ? line : null;
                zero ??= said is { Kind: UniverseSpelling.Number, Number: 0 } ? line : null;
                protocols.TryAdd(said.Protocol, line.Row.Line);
            }
        }

        if (protocols.Keys.Count(protocol => protocol.Length > 0) > 1)
        {
            question = new TableProblem("universes of two protocols on one sheet", Math.Max(protocols.GetValueOrDefault("SACN"), protocols.GetValueOrDefault("ARTNET")), "",
                "one numbering", "sACN and Art-Net", "number them 1, 2, 3 on the sheet and say with --map which is which");
            return null;
        }

        if (options.UniverseBase == 1 && zero is not null)
        {
            question = new TableProblem("a universe 0 on a sheet that is said to count from 1", zero.Row.Line, "", "1 or more", "0", "leave --universe-base 1 out, or correct the sheet");
            return null;
        }

        if (net is not null && number is not null && options.UniverseBase is null)
        {
            question = new TableProblem("from where do the universes count", number.Row.Line, "", "one way of writing them",
                $"Net:Sub-Net:Universe on line {Shown.Number(net.Row.Line)} and a plain number here", "say with --universe-base 0 or --universe-base 1 what the first plain number is");
            return null;
        }

        int first = options.UniverseBase ?? (net is not null || zero is not null ? 0 : 1);
        if (net is not null)
        {
            notes.Add(first == 0 ? "Net:Sub-Net:Universe is the Port-Address, from 0" : "Net:Sub-Net:Universe 0:0:0 is universe 1, as asked");
        }

        if (options.UniverseBase is not null)
        {
            notes.Add($"universes count from {Shown.Number(first)}, as asked");
        }
        else if (number is not null)
        {
            notes.Add(zero is not null ? $"universes count from 0 (line {Shown.Number(zero.Row.Line)})" : "universes count from 1 (if the sheet counts from 0: --universe-base 0)");
        }

        return first;
    }
}
