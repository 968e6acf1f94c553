using System.Globalization;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>
/// Finds what the bad units share: the label with the greatest information gain over the units of the sheet. It says
/// something only from 3 bad units on (2 where they are exactly a chain or its end) and where the label takes away half of
/// the uncertainty about good and bad (thresholds: proposals, no source).
/// </summary>
public static class UnitGrouping
{
    /// <summary>Fewest bad units that can share something worth saying.</summary>
    public const int FewestBad = 3;

    /// <summary>Least share of the uncertainty about good and bad that a label must take away.</summary>
    public const double LeastGain = 0.5;

    private const int FewestOfChain = 2;
    private const int MostOfKind = 2;
    private static readonly string[] Radio = ["radio", "wireless", "wi-fi", "wifi"];

    /// <summary>What the bad units share by the sheet alone, best first; empty when nothing is worth saying.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="bad">The bad units, by name.</param>
    public static IReadOnlyList<UnitGroup> Of(PatchSheet sheet, IReadOnlyList<string> bad)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(bad);
        return Weigh(sheet, new HashSet<string>(bad, StringComparer.OrdinalIgnoreCase), []);
    }

    /// <summary>What the bad units share by the sheet and by what the wire told them, best first.</summary>
    public static IReadOnlyList<UnitGroup> Of(DiagnosisCase it)
    {
        ArgumentNullException.ThrowIfNull(it);
        return it.Sheet is not { } sheet ? []
            : Weigh(sheet, new HashSet<string>(it.Bad, StringComparer.OrdinalIgnoreCase), it.Bad.Count < FewestBad ? [] : UnitLabels.Of(it.Units, it.Survey, it.IsBad));
    }

    private static UnitGroup[] Weigh(PatchSheet sheet, HashSet<string> names, IEnumerable<UnitGroup> told)
    {
        PatchUnit[] all = [.. sheet.Units];
        int count = all.Count(unit => names.Contains(unit.Unit));
        if (count < FewestOfChain || count == all.Length)
        {
            return [];
        }

        double whole = Entropy(count, all.Length);
        List<UnitGroup> groups = [];
        foreach (UnitGroup group in Candidates(all, new PatchChains(sheet), names).Select(label => new UnitGroup(label.Kind, label.Text, 0, [.. label.Members.Select(unit => unit.Unit)], label.Check)).Concat(told))
        {
            int size = group.Units.Count, inside = group.Units.Count(names.Contains);
            double left = ((double)size / all.Length * Entropy(inside, size))
                + ((double)(all.Length - size) / all.Length * Entropy(count - inside, all.Length - size));
            double gain = (whole - left) / whole;
            // The label must gather the bad ones, not shut them out.
            bool gathers = gain >= LeastGain && inside * 2 > size && inside * 2 > count;
            if (gathers && (count >= FewestBad || (group.Kind is UnitGroupKind.Chain or UnitGroupKind.ChainTail && gain > 1 - 1e-9)))
            {
                groups.Add(group with { Gain = gain });
            }
        }

        // Several labels of one kind say much the same: the best of each are enough.
        return [.. groups.GroupBy(group => group.Kind).SelectMany(kind => kind.OrderByDescending(group => group.Gain).Take(MostOfKind)).OrderByDescending(group => Math.Round(group.Gain, 3)).ThenBy(group => group.Kind)];
    }

    private static IEnumerable<(UnitGroupKind Kind, string Text, PatchUnit[] Members, NextCheck? Check)> Candidates(PatchUnit[] all, PatchChains chains, HashSet<string> bad)
    {
        foreach (IGrouping<string, PatchUnit> chain in Named(all, unit => chains.Of(unit).Chain))
        {
            PatchUnit[] order = [.. chain.OrderBy(unit => chains.Of(unit).Order)];
            bool radio = order.All(IsRadio);
            yield return (UnitGroupKind.Chain, $"all of chain '{chain.Key}'", order, radio ? Transmitter($"chain '{chain.Key}'") : WholeChain(chain.Key, order, chains));
            if (radio || order.Any(unit => chains.Of(unit).Order == 0))
            {
                continue;
            }

            for (int from = 1; from < order.Length; from++)
            {
                yield return (UnitGroupKind.ChainTail, $"all after {order[from - 1].Unit} in chain '{chain.Key}'", order[from..], Halving(order, from, bad));
            }
        }

        foreach (IGrouping<int, PatchUnit> universe in all.GroupBy(unit => unit.Universe))
        {
            PatchUnit[] order = [.. universe.OrderBy(unit => unit.Address)];
            yield return (UnitGroupKind.Universe, Say($"all of universe {universe.Key}"), order, new NextCheck(Say($"Look at what all of universe {universe.Key} hangs on: the output for it at the controller, the gateway's port, the first cable."), 60));
            for (int from = 1; from < order.Length; from++)
            {
                if (order[from].Address != order[from - 1].Address)
                {
                    yield return (UnitGroupKind.HighSlots, Say($"all from {universe.Key}.{order[from].Address:000} ({order[from].Unit}) on"), order[from..], new NextCheck(Say($"Read the mode off {order[from].Unit} and the unit before it, {order[from - 1].Unit}: a wrong footprint there moves all that follow. If they are dead, count the slots that are sent."), 90));
                }
            }
        }

        foreach (IGrouping<string, PatchUnit> model in Named(all, unit => unit.Mode.Length > 0 ? $"{unit.Type}, mode {unit.Mode}" : unit.Type))
        {
            yield return (UnitGroupKind.Model, $"all of type {model.Key}", [.. model], new NextCheck($"Read mode and firmware off one of them and hold its chart against the profile at the controller ({model.First().Unit}).", 90));
        }

        foreach (IGrouping<string, PatchUnit> circuit in Named(all, unit => unit.Circuit))
        {
            yield return (UnitGroupKind.Circuit, $"all on circuit '{circuit.Key}'", [.. circuit], new NextCheck($"Look at the breaker and the supply of circuit '{circuit.Key}'; mains is for licensed people.", 30));
        }

        foreach (IGrouping<string, PatchUnit> radio in Named(all, unit => unit.Wireless))
        {
            yield return (UnitGroupKind.Wireless, $"all on radio link '{radio.Key}'", [.. radio], Transmitter($"radio link '{radio.Key}'"));
        }

        foreach (IGrouping<string, PatchUnit> place in Named(all, unit => unit.Position))
        {
            yield return (UnitGroupKind.Position, $"all at '{place.Key}'", [.. place], new NextCheck($"Ask what all units at '{place.Key}' share that the sheet does not say: cable, circuit, splitter.", 20));
        }
    }

    // Nothing to unplug: the sheet says radio in a column of its own, in the chain's name or in a note.
    private static bool IsRadio(PatchUnit unit) =>
        unit.Wireless.Length > 0 || Radio.Any(word => unit.Chain.Contains(word, StringComparison.OrdinalIgnoreCase) || unit.Note.Contains(word, StringComparison.OrdinalIgnoreCase));

    private static NextCheck Transmitter(string of) => new($"Look at the transmitter of {of}: input, group, link light.", 30);

    // The trouble sits between the last good unit and the first bad one: its through-connection, the cable, or the first bad unit.
    private static NextCheck Halving(PatchUnit[] order, int from, HashSet<string> bad)
    {
        int reported = order.Skip(from).Count(unit => bad.Contains(unit.Unit));
        return reported == order.Length - from
            ? new NextCheck($"People clear and nothing moving: at {order[from].Unit}, take the cable that comes from {order[from - 1].Unit} to a unit known to work; if that follows, {order[from].Unit} breaks the chain, if not, the cable or the output of {order[from - 1].Unit} does.", 120, Ladder: true)
            : new NextCheck($"Ask about the others behind {order[from - 1].Unit}: {string.Join(", ", order.Skip(from).Where(unit => !bad.Contains(unit.Unit)).Take(4).Select(unit => unit.Unit))}.", 10);
    }

    // One bad receiver or connector can disturb all: each unplugging halves where it can be.
    private static NextCheck? WholeChain(string chain, PatchUnit[] order, PatchChains chains)
    {
        if (order.Length < 2 || order.Any(unit => chains.Of(unit).Order == 0))
        {
            return null;
        }

        PatchUnit last = order[(order.Length / 2) - 1], next = order[order.Length / 2];
        return new NextCheck($"People clear and nothing moving: unplug chain '{chain}' between {last.Unit} and {next.Unit}. If those up to {last.Unit} then work, the fault is from {next.Unit} on; if not, it is before. Halve again.", 120, Ladder: true);
    }

    private static IEnumerable<IGrouping<string, PatchUnit>> Named(PatchUnit[] all, Func<PatchUnit, string> label) =>
        all.Where(unit => label(unit).Length > 0).GroupBy(label, StringComparer.OrdinalIgnoreCase);

    private static double Entropy(int part, int whole)
    {
        if (part == 0 || part == whole || whole == 0)
        {
            return 0;
        }

        double p = (double)part / whole;
        return -(p * Math.Log2(p)) - ((1 - p) * Math.Log2(1 - p));
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
