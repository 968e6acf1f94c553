using System.Globalization;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>
/// What units of a sheet share by the sheet: counted only, until <see cref="UnitGrouping"/> finds it worth saying; then it is
/// put into words with the check that follows.
/// </summary>
/// <param name="Kind">By what.</param>
/// <param name="Key">The name of the chain, universe, type, circuit, radio link or place.</param>
/// <param name="Order">All that bear the name, in its order.</param>
/// <param name="From">The first of them that is meant; all after it are too.</param>
/// <param name="Inside">How many of those meant are bad.</param>
internal readonly record struct SheetLabel(UnitGroupKind Kind, string Key, PatchUnit[] Order, int From, int Inside)
{
    /// <summary>For a chain: it is a radio link, with nothing to unplug.</summary>
    public bool IsRadio { get; init; }

    /// <summary>For a chain: the sheet gives the place of each of its units.</summary>
    public bool HasOrder { get; init; }

    /// <summary>How many are meant.</summary>
    public int Size => Order.Length - From;

    /// <summary>Those meant.</summary>
    public IEnumerable<PatchUnit> Members => Order.Skip(From);

    /// <summary>What they share, as a phrase.</summary>
    public string Text => Kind switch
    {
        UnitGroupKind.Chain => $"all of chain '{Key}'",
        UnitGroupKind.ChainTail => $"all after {Order[From - 1].Unit} in chain '{Key}'",
        UnitGroupKind.Universe => $"all of universe {Key}",
        UnitGroupKind.HighSlots => Say($"all from {Key}.{Order[From].Address:000} ({Order[From].Unit}) on"),
        UnitGroupKind.Model => $"all of type {Key}",
        UnitGroupKind.Circuit => $"all on circuit '{Key}'",
        UnitGroupKind.Wireless => $"all on radio link '{Key}'",
        _ => $"all at '{Key}'",
    };

    /// <summary>The check that follows; null when none does.</summary>
    /// <param name="bad">The bad units, by reference.</param>
    public NextCheck? Check(HashSet<PatchUnit> bad) => Kind switch
    {
        UnitGroupKind.Chain => IsRadio ? Transmitter($"chain '{Key}'") : WholeChain(),
        UnitGroupKind.ChainTail => Halving(bad),
        UnitGroupKind.Universe => new NextCheck($"Look at what all of universe {Key} have in common: the output for it at the controller, the gateway's port, the first cable.", 60),
        UnitGroupKind.HighSlots => new NextCheck($"Read the mode off {Order[From].Unit} and the unit before it, {Order[From - 1].Unit}: a wrong footprint there moves all that follow. If they are dead, count the slots that are sent.", 90),
        UnitGroupKind.Model => new NextCheck($"Read mode and firmware off one of them and hold its chart against the profile at the controller ({Order[0].Unit}).", 90),
        UnitGroupKind.Circuit => new NextCheck($"Look at the breaker and the supply of circuit '{Key}'; mains is for licensed people.", 30),
        UnitGroupKind.Wireless => Transmitter($"radio link '{Key}'"),
        _ => new NextCheck($"Ask what all units at '{Key}' share that the sheet does not say: cable, circuit, splitter.", 20),
    };

    private static NextCheck Transmitter(string of) => new($"Look at the transmitter of {of}: input, group, link light.", 30);

    // The trouble sits between the last good unit and the first bad one: its through-connection, the cable, or the first bad unit.
    private NextCheck Halving(HashSet<PatchUnit> bad)
    {
        return Inside == Size
            ? new NextCheck($"People clear and nothing moving: at {Order[From].Unit}, take the cable that comes from {Order[From - 1].Unit} to a unit known to work; if that follows, {Order[From].Unit} breaks the chain, if not, the cable or the output of {Order[From - 1].Unit} does.", 120, Ladder: true)
            : new NextCheck($"Ask about the others behind {Order[From - 1].Unit}: {string.Join(", ", Members.Where(unit => !bad.Contains(unit)).Take(4).Select(unit => unit.Unit))}.", 10);
    }

    // One bad receiver or connector can disturb all: each unplugging halves where it can be.
    private NextCheck? WholeChain()
    {
        if (Order.Length < 2 || !HasOrder)
        {
            return null;
        }

        PatchUnit last = Order[(Order.Length / 2) - 1], next = Order[Order.Length / 2];
        return new NextCheck($"People clear and nothing moving: unplug chain '{Key}' between {last.Unit} and {next.Unit}. If those up to {last.Unit} then work, the fault is from {next.Unit} on; if not, it is before. Halve again.", 120, Ladder: true);
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
