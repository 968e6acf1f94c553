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
        HashSet<PatchUnit> bad = new(all.Where(unit => names.Contains(unit.Unit)), ReferenceEqualityComparer.Instance);
        int count = all.Count(bad.Contains);
        if (count < FewestOfChain || count == all.Length)
        {
            return [];
        }

        double whole = Entropy(count, all.Length);
        List<UnitGroup> groups = [];
        foreach (SheetLabel label in Labels(all, new PatchChains(sheet), bad))
        {
            if (Gain(label.Kind, label.Size, label.Inside) is double gain)
            {
                groups.Add(new UnitGroup(label.Kind, label.Text, gain, [.. label.Members.Select(unit => unit.Unit)], label.Check(bad)));
            }
        }

        foreach (UnitGroup group in told)
        {
            if (Gain(group.Kind, group.Units.Count, group.Units.Count(names.Contains)) is double gain)
            {
                groups.Add(group with { Gain = gain });
            }
        }

        // Several labels of one kind say much the same: the best of each are enough.
        return [.. groups.GroupBy(group => group.Kind).SelectMany(kind => kind.OrderByDescending(group => group.Gain).Take(MostOfKind)).OrderByDescending(group => Math.Round(group.Gain, 3)).ThenBy(group => group.Kind)];

        // Null where the label is not worth saying: it must gather the bad ones, not shut them out.
        double? Gain(UnitGroupKind kind, int size, int inside)
        {
            if (inside * 2 <= size || inside * 2 <= count)
            {
                return null;
            }

            double left = ((double)size / all.Length * Entropy(inside, size))
                + ((double)(all.Length - size) / all.Length * Entropy(count - inside, all.Length - size));
            double gain = (whole - left) / whole;
            return gain >= LeastGain && (count >= FewestBad || (kind is UnitGroupKind.Chain or UnitGroupKind.ChainTail && gain > 1 - 1e-9)) ? gain : null;
        }
    }

    // A sheet of thousands of units has as many labels, nearly all of which are not worth saying: they are counted here and put
    // into words (SheetLabel) only where they are.
    private static IEnumerable<SheetLabel> Labels(PatchUnit[] all, PatchChains chains, HashSet<PatchUnit> bad)
    {
        foreach (IGrouping<string, PatchUnit> chain in Named(all, unit => chains.Of(unit).Chain))
        {
            PatchUnit[] order = [.. chain.OrderBy(unit => chains.Of(unit).Order)];
            SheetLabel whole = Of(UnitGroupKind.Chain, chain.Key, order) with { IsRadio = order.All(IsRadio), HasOrder = order.All(unit => chains.Of(unit).Order != 0) };
            yield return whole;
            foreach (SheetLabel tail in whole.IsRadio || !whole.HasOrder ? [] : Tails(whole with { Kind = UnitGroupKind.ChainTail }))
            {
                yield return tail;
            }
        }

        foreach (IGrouping<int, PatchUnit> universe in all.GroupBy(unit => unit.Universe))
        {
            SheetLabel whole = Of(UnitGroupKind.Universe, universe.Key.ToString(CultureInfo.InvariantCulture), [.. universe.OrderBy(unit => unit.Address)]);
            yield return whole;
            foreach (SheetLabel tail in Tails(whole with { Kind = UnitGroupKind.HighSlots }).Where(tail => tail.Order[tail.From].Address != tail.Order[tail.From - 1].Address))
            {
                yield return tail;
            }
        }

        (UnitGroupKind Kind, Func<PatchUnit, string> Label)[] columns =
        [
            (UnitGroupKind.Model, unit => unit.Mode.Length > 0 ? $"{unit.Type}, mode {unit.Mode}" : unit.Type),
            (UnitGroupKind.Circuit, unit => unit.Circuit),
            (UnitGroupKind.Wireless, unit => unit.Wireless),
            (UnitGroupKind.Position, unit => unit.Position),
        ];
        foreach ((UnitGroupKind kind, Func<PatchUnit, string> label) in columns)
        {
            foreach (IGrouping<string, PatchUnit> same in Named(all, label))
            {
                yield return Of(kind, same.Key, [.. same]);
            }
        }

        SheetLabel Of(UnitGroupKind kind, string key, PatchUnit[] order) => new(kind, key, order, 0, order.Count(bad.Contains));

        // From each place on to the end.
        IEnumerable<SheetLabel> Tails(SheetLabel whole)
        {
            int inside = whole.Inside;
            for (int from = 1; from < whole.Order.Length; from++)
            {
                inside -= bad.Contains(whole.Order[from - 1]) ? 1 : 0;
                yield return whole with { From = from, Inside = inside };
            }
        }
    }

    // Nothing to unplug: the sheet says radio in a column of its own, in the chain's name or in a note.
    private static bool IsRadio(PatchUnit unit) =>
        unit.Wireless.Length > 0 || Radio.Any(word => unit.Chain.Contains(word, StringComparison.OrdinalIgnoreCase) || unit.Note.Contains(word, StringComparison.OrdinalIgnoreCase));

    private static IEnumerable<IGrouping<string, PatchUnit>> Named(PatchUnit[] all, Func<PatchUnit, string> label) =>
        all.Select(unit => (Unit: unit, Label: label(unit))).Where(each => each.Label.Length > 0).GroupBy(each => each.Label, each => each.Unit, StringComparer.OrdinalIgnoreCase);

    private static double Entropy(int part, int whole)
    {
        if (part == 0 || part == whole || whole == 0)
        {
            return 0;
        }

        double p = (double)part / whole;
        return -(p * Math.Log2(p)) - ((1 - p) * Math.Log2(1 - p));
    }
}
