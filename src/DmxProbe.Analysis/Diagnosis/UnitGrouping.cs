using System.Globalization;
using DmxProbe.Fixtures.Patch;

namespace DmxProbe.Analysis.Diagnosis;

/// <summary>
/// Finds what the bad units share: the label with the greatest information gain over the units of the sheet. It says
/// something only from 3 bad units on and from a gain of half a bit of the uncertainty (thresholds: proposals, no source).
/// </summary>
public static class UnitGrouping
{
    /// <summary>Fewest bad units that can share something worth saying.</summary>
    public const int FewestBad = 3;

    /// <summary>Least share of the uncertainty about good and bad that a label must take away.</summary>
    public const double LeastGain = 0.5;

    /// <summary>What the bad units share, best first; empty when nothing is worth saying.</summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="bad">The bad units, by name.</param>
    public static IReadOnlyList<UnitGroup> Of(PatchSheet sheet, IReadOnlyList<string> bad)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(bad);
        HashSet<string> names = new(bad, StringComparer.OrdinalIgnoreCase);
        PatchUnit[] all = [.. sheet.Units];
        int count = all.Count(unit => names.Contains(unit.Unit));
        if (count < FewestBad || count == all.Length)
        {
            return [];
        }

        PatchChains chains = new(sheet);
        double whole = Entropy(count, all.Length);
        List<UnitGroup> groups = [];
        foreach ((UnitGroupKind kind, string text, PatchUnit[] members, NextCheck? check) in Candidates(all, chains, names))
        {
            int inside = members.Count(unit => names.Contains(unit.Unit));
            double left = ((double)members.Length / all.Length * Entropy(inside, members.Length))
                + ((double)(all.Length - members.Length) / all.Length * Entropy(count - inside, all.Length - members.Length));
            double gain = (whole - left) / whole;
            // The label must gather the bad ones, not shut them out.
            if (gain >= LeastGain && inside * 2 > members.Length && inside * 2 > count)
            {
                groups.Add(new UnitGroup(kind, text, gain, [.. members.Select(unit => unit.Unit)], check));
            }
        }

        return [.. groups.OrderByDescending(group => Math.Round(group.Gain, 3)).ThenBy(group => group.Kind)];
    }

    private static IEnumerable<(UnitGroupKind Kind, string Text, PatchUnit[] Members, NextCheck? Check)> Candidates(PatchUnit[] all, PatchChains chains, HashSet<string> bad)
    {
        foreach (IGrouping<string, PatchUnit> chain in Named(all, unit => chains.Of(unit).Chain))
        {
            PatchUnit[] order = [.. chain.OrderBy(unit => chains.Of(unit).Order)];
            yield return (UnitGroupKind.Chain, $"all of chain '{chain.Key}'", order, WholeChain(chain.Key, order, chains));
            if (order.Any(unit => chains.Of(unit).Order == 0))
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
            yield return (UnitGroupKind.Wireless, $"all on radio link '{radio.Key}'", [.. radio], new NextCheck($"Look at the transmitter of radio link '{radio.Key}': input, group, link light.", 30));
        }

        foreach (IGrouping<string, PatchUnit> place in Named(all, unit => unit.Position))
        {
            yield return (UnitGroupKind.Position, $"all at '{place.Key}'", [.. place], new NextCheck($"Ask what all units at '{place.Key}' share that the sheet does not say: cable, circuit, splitter.", 20));
        }
    }

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
        if (part == 0 || part == whole)
        {
            return 0;
        }

        double p = (double)part / whole;
        return -(p * Math.Log2(p)) - ((1 - p) * Math.Log2(1 - p));
    }

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
