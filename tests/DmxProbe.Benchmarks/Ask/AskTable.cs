using System.Globalization;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Benchmarks.Ask;

/// <summary>
/// The table of guided questions and taps: <c>ask-table [--rigs N] [--cells name,..] [--seed S] [--threads T]</c>.
/// </summary>
public static class AskTable
{
    private const long UnseenSeeds = 23_000_000;

    /// <summary>Runs the cells and prints Markdown tables.</summary>
    public static int Run(string[] arguments)
    {
        Dictionary<string, string> options = new(StringComparer.Ordinal);
        for (int i = 0; i + 1 < arguments.Length; i += 2)
        {
            options[arguments[i].TrimStart('-')] = arguments[i + 1];
        }

        int rigs = int.Parse(options.GetValueOrDefault("rigs", "1000"), CultureInfo.InvariantCulture);
        long seed = long.Parse(options.GetValueOrDefault("seed", UnseenSeeds.ToString(CultureInfo.InvariantCulture)), CultureInfo.InvariantCulture);
        int threads = int.Parse(options.GetValueOrDefault("threads", "1"), CultureInfo.InvariantCulture);
        string[] names = options.GetValueOrDefault("cells", "").Split(',', StringSplitOptions.RemoveEmptyEntries);
        Console.WriteLine("| guided questions | rigs | right / wrong / open, % | right, 95 % interval | looks, mean (least by Shannon) | looks, 95 % | time, median | time, 95 % | computing, ms a question |");
        Console.WriteLine("|---|---|---|---|---|---|---|---|---|");
        foreach (AskCell cell in AskCell.All.Where(cell => names.Length == 0 || names.Contains(cell.Name)))
        {
            AskTrial[] trials = new AskTrial[rigs];
            long before = System.Diagnostics.Stopwatch.GetTimestamp();
            Parallel.For(0, rigs, new ParallelOptions { MaxDegreeOfParallelism = threads }, i => trials[i] = cell.Run(seed + i));
            double milliseconds = System.Diagnostics.Stopwatch.GetElapsedTime(before).TotalMilliseconds;
            Console.WriteLine(Row(cell, trials, milliseconds * threads / trials.Sum(trial => trial.Looks)));
        }

        TapRow[] taps = [.. TapRow.All.Where(row => names.Length == 0 || names.Contains(row.Name))];
        if (taps.Length > 0)
        {
            Console.WriteLine();
            Console.WriteLine("| trace of 15 s and taps in the minute after it | rigs | trace alone: right / wrong / open, % | with 5 taps: right / wrong / open, % | 5 taps alone: right / wrong / open, % (top of ranking right) |");
            Console.WriteLine("|---|---|---|---|---|");
            foreach (TapRow row in taps)
            {
                Console.WriteLine(row.Run(rigs, seed, threads));
            }
        }

        foreach (SheetRow sheet in SheetRow.All.Where(row => names.Length == 0 || names.Contains(row.Name)))
        {
            Console.WriteLine();
            Console.WriteLine($"| {sheet.Name}, by the unit's mode | rigs | right / wrong / open, % | looks, mean | looks that endangered the unit where it really was |");
            Console.WriteLine("|---|---|---|---|---|");
            foreach (string row in sheet.Run(rigs, seed, threads))
            {
                Console.WriteLine(row);
            }
        }

        return 0;
    }

    private static string Row(AskCell cell, AskTrial[] trials, double milliseconds)
    {
        double count = trials.Length;
        int right = trials.Count(trial => trial.IsRight);
        int wrong = trials.Count(trial => trial.IsWrong);
        (double low, double high) = Interval.Wilson(right, trials.Length);
        int[] looks = [.. trials.Select(trial => trial.Looks).Order()];
        double[] seconds = [.. trials.Select(trial => trial.Seconds).Order()];
        return string.Create(
            CultureInfo.InvariantCulture,
            $"| {cell.Name} | {trials.Length} | {100 * right / count:0.0} / {100 * wrong / count:0.00} / {100 * (count - right - wrong) / count:0.0} | {100 * low:0.0} to {100 * high:0.0} | {looks.Average():0.0} ({trials.Average(trial => trial.PriorBits) / (1 - Entropy(cell.EyeError)):0.0}) | {looks[(int)(0.95 * (looks.Length - 1))]} | {Time(seconds[seconds.Length / 2])} | {Time(seconds[(int)(0.95 * (seconds.Length - 1))])} | {milliseconds:0.0} |");
    }

    private static double Entropy(double chance) => -(chance * Math.Log2(chance)) - ((1 - chance) * Math.Log2(1 - chance));

    private static string Time(double seconds) => string.Create(CultureInfo.InvariantCulture, $"{(int)seconds / 60} min {(int)seconds % 60:00} s");
}
