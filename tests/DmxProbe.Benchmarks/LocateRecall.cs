using System.Globalization;
using DmxProbe.Analysis.Locate;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Benchmarks;

/// <summary>
/// Recall of the prefilter of locating: <c>locate-recall [--rigs N] [--seed S]</c>. How often the truth is among the hypotheses that
/// stage 1 keeps, and among fewer of them; dense rigs, where it has many to choose from.
/// </summary>
public static class LocateRecall
{
    private static readonly int[] Fewer = [16, 64, 160];

    /// <summary>Runs the cells and prints a Markdown table.</summary>
    public static int Run(string[] arguments)
    {
        Dictionary<string, string> options = LocateTable.Options(arguments);
        int rigs = int.Parse(options.GetValueOrDefault("rigs", "1000"), CultureInfo.InvariantCulture);
        long seed = long.Parse(options.GetValueOrDefault("seed", "15000000"), CultureInfo.InvariantCulture);
        RigOptions busy = new() { Dense = true };
        RigOptions cued = busy with { Show = RigShowKind.Cued };
        Console.WriteLine("| cell | rigs | live hypotheses, mean | kept, % of the truths | among the best 16 / 64 / 160, % |");
        Console.WriteLine("|---|---|---|---|---|");
        foreach ((string name, RigOptions cell) in new[] { ("busy-dense", busy), ("cued-dense", cued), ("rough-busy-dense", busy with { Rough = true }), ("rough-cued-dense", cued with { Rough = true }) })
        {
            int kept = 0;
            double live = 0;
            int[] among = new int[Fewer.Length];
            for (int i = 0; i < rigs; i++)
            {
                Rig rig = Rig.Draw(cell, seed + i);
                (int place, int count, int all) = LocateInference.Prefiltered(rig.Question, rig.Truth!.Value);
                kept += place <= count ? 1 : 0;
                live += all;
                for (int k = 0; k < among.Length; k++)
                {
                    among[k] += place <= Fewer[k] ? 1 : 0;
                }
            }

            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {name} | {rigs} | {live / rigs:0} | {100.0 * kept / rigs:0.0} | {string.Join(" / ", among.Select(count => (100.0 * count / rigs).ToString("0.0", CultureInfo.InvariantCulture)))} |"));
        }

        return 0;
    }
}
