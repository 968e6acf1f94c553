using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Tables;

namespace DmxProbe.Fixtures.Patch;

/// <summary>
/// Tells one wrong footprint from many wrong addresses: where all units of a type and mode on a universe stand closer than
/// the mode is long, and equally close, the mode (or the chart) is wrong once. The overlaps are then one finding.
/// </summary>
internal static class SpacingCheck
{
    private const int FewestUnits = 3;

    public static void Fold(PatchSheet sheet, ChartSet charts, List<PatchFinding> findings)
    {
        if (!findings.Exists(finding => finding.Id == PatchCheck.AddressOverlap))
        {
            return;
        }

        foreach (IGrouping<(int, string, string), PatchUnit> same in sheet.Units.GroupBy(unit => (unit.Universe, unit.Type.ToUpperInvariant(), unit.Mode.ToUpperInvariant())))
        {
            PatchUnit[] units = [.. same.OrderBy(unit => unit.Address).DistinctBy(unit => unit.Address)];
            if (units.Length < FewestUnits || charts.Find(units[0].Type, units[0].Mode) is not { } mode)
            {
                continue;
            }

            int[] steps = [.. units.Zip(units.Skip(1), (a, b) => b.Address - a.Address)];
            int step = steps.GroupBy(size => size).OrderByDescending(sizes => sizes.Count()).ThenBy(sizes => sizes.Key).First().Key;
            if (step >= mode.Footprint || steps.Count(size => size == step) * 4 < steps.Length * 3)
            {
                continue;
            }

            HashSet<string> names = new(units.Select(unit => unit.Unit), StringComparer.OrdinalIgnoreCase);
            int folded = findings.RemoveAll(finding => finding.Id == PatchCheck.AddressOverlap && finding.Units.All(names.Contains));
            string[] fits = [.. charts.Find(units[0].Type)!.Modes.Where(other => other.Footprint <= step).OrderByDescending(other => other.Footprint).Select(other => Shown.Quoted(other.Name)).Take(3)];
            findings.Add(new PatchFinding(PatchCheck.SpacingTooNarrow, PatchSeverity.Fault, [.. units.Select(unit => unit.Unit)],
                $"the {Shown.Number(units.Length)} units of {Shown.Quoted(units[0].Type)} in universe {Shown.Number(units[0].Universe)} stand {Shown.Number(step)} slots apart, but mode {Shown.Quoted(mode.Name)} takes {Shown.Number(mode.Footprint)} ({Shown.Number(folded)} overlaps)",
                fits.Length > 0 ? $"probably one wrong mode, not {Shown.Number(units.Length)} wrong addresses: mode {string.Join(" or ", fits)} would fit" : "the spacing is too narrow for every mode of the chart: readdress, or correct the chart", units.Min(unit => unit.Line)));
        }
    }
}
