using System.Globalization;
using DmxProbe.Analysis.Locate;
using DmxProbe.Analysis.Locate.Together;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Benchmarks;

/// <summary>
/// Several units located at once: <c>locate-rows [--rigs N] [--seed S]</c>. Right, wrong and open by unit, each by its own light and
/// together; and what is said of the row as a whole.
/// </summary>
public static class LocateRows
{
    /// <summary>Runs the cells and prints a Markdown table.</summary>
    public static int Run(string[] arguments)
    {
        Dictionary<string, string> options = LocateTable.Options(arguments);
        int rigs = int.Parse(options.GetValueOrDefault("rigs", "300"), CultureInfo.InvariantCulture);
        long seed = long.Parse(options.GetValueOrDefault("seed", "17000000"), CultureInfo.InvariantCulture);
        RigOptions cued = new() { Show = RigShowKind.Cued };
        Console.WriteLine("| row | rows | units | each alone right / wrong / open, % | together right / wrong / open, % | shift named right / wrong / not, % of rows | its cause named, % |");
        Console.WriteLine("|---|---|---|---|---|---|---|");
        foreach ((string name, RigOptions cell) in new[] { ("cued 30 s", cued with { Seconds = 30 }), ("cued 60 s", cued), ("busy 30 s", new RigOptions { Seconds = 30 }), ("cued 30 s RGB", cued with { Seconds = 30, Rgb = true }) })
        {
            foreach (RigRowFault fault in Enum.GetValues<RigRowFault>())
            {
                Console.WriteLine(Row(name + ", " + fault, fault, cell, rigs, seed));
            }
        }

        return 0;
    }

    private static string Row(string name, RigRowFault fault, RigOptions cell, int rigs, long seed)
    {
        int[] alone = new int[3];
        int[] together = new int[3];
        int[] shift = new int[3];
        int cause = 0;
        for (int r = 0; r < rigs; r++)
        {
            RigRow row = RigRow.Draw(fault, cell, seed + r);
            TogetherResult result = TogetherInference.Run(row.Units);
            for (int i = 0; i < result.Units.Count; i++)
            {
                int at = row.Units.ToList().FindIndex(unit => unit.Name == result.Units[i].Unit.Name);
                alone[Kind(result.Units[i].Alone, row.Truths[at])]++;
                together[Kind(result.Units[i].Result, row.Truths[at])]++;
            }

            RowFinding[] shifts = [.. result.Findings.Where(finding => finding.Kind is RowFindingKind.ShiftedFrom or RowFindingKind.ShiftedAll or RowFindingKind.OtherUniverse)];
            string[] shifted = row.FirstShifted < 0 ? [] : [.. row.Units.Skip(row.FirstShifted).Select(unit => unit.Name)];
            bool right = shifts.Length == 1 && row.FirstShifted >= 0 && shifts[0].Shift.Slots == row.Slots && shifts[0].Units.All(shifted.Contains);
            shift[shifts.Length == 0 ? (row.FirstShifted < 0 ? 0 : 2) : right ? 0 : 1]++;
            cause += right && fault == RigRowFault.Shifted && shifts[0].Culprit == row.Units[row.FirstShifted - 1].Name ? 1 : 0;
        }

        string Shares(int[] counts) => string.Join(" / ", counts.Select(count => (100.0 * count / counts.Sum()).ToString("0.00", CultureInfo.InvariantCulture)));
        return string.Create(CultureInfo.InvariantCulture, $"| {name} | {rigs} | {alone.Sum()} | {Shares(alone)} | {Shares(together)} | {Shares(shift)} | {(fault == RigRowFault.Shifted ? (100.0 * cause / rigs).ToString("0.0", CultureInfo.InvariantCulture) : "")} |");
    }

    private static int Kind(LocateResult result, Hypothesis truth) =>
        result.Claim is not (LocateClaim.Found or LocateClaim.Class) ? 2 : result.ClassMembers.Any(member => member.Hypothesis == truth) ? 0 : 1;
}
