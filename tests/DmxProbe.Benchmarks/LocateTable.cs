using System.Globalization;
using DmxProbe.Analysis.Locate;
using DmxProbe.Benchmarks.Ask;

namespace DmxProbe.Benchmarks;

/// <summary>
/// The accuracy table of locating: <c>locate-table [--rigs N] [--cells name,..] [--seed S] [--threads T] [--log FILE]</c>.
/// The log has a line for each rig; it is what the rule's figures were tuned on.
/// </summary>
public static class LocateTable
{
    private const long UnseenSeeds = 11_000_000;

    /// <summary>Runs the cells and prints a Markdown table.</summary>
    public static int Run(string[] arguments)
    {
        Dictionary<string, string> options = Options(arguments);
        int rigs = int.Parse(options.GetValueOrDefault("rigs", "300"), CultureInfo.InvariantCulture);
        long seed = long.Parse(options.GetValueOrDefault("seed", UnseenSeeds.ToString(CultureInfo.InvariantCulture)), CultureInfo.InvariantCulture);
        int threads = int.Parse(options.GetValueOrDefault("threads", "1"), CultureInfo.InvariantCulture);
        string[] names = options.GetValueOrDefault("cells", "").Split(',', StringSplitOptions.RemoveEmptyEntries);
        bool scaled = !options.ContainsKey("rigs");
        using StreamWriter? log = options.TryGetValue("log", out string? path) ? new StreamWriter(path) : null;
        Console.WriteLine("| cell | rigs | top of ranking right | claims right / wrong / open, % | right, 95 % interval | strict right / wrong | with \"one of up to 6\" right / wrong | nothing explains | median ms |");
        Console.WriteLine("|---|---|---|---|---|---|---|---|---|");
        LocateCalibration calibration = new();
        foreach (LocateCell cell in LocateCell.All.Where(cell => names.Length == 0 || names.Contains(cell.Name)))
        {
            int count = scaled && cell.IsHeadline ? 1000 : rigs;
            LocateOutcome[] outcomes = new LocateOutcome[count];
            Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = threads }, i => outcomes[i] = LocateOutcome.Of(cell, seed + i));
            Console.WriteLine(Row(cell, outcomes));
            foreach (LocateOutcome outcome in outcomes)
            {
                calibration.Add(outcome);
                log?.WriteLine(LogLine(cell, outcome));
            }

            log?.Flush();
        }

        calibration.Write(Console.Out);
        return 0;
    }

    private static string Row(LocateCell cell, LocateOutcome[] outcomes)
    {
        double count = outcomes.Length;
        int right = outcomes.Count(outcome => outcome.IsRight);
        int wrong = outcomes.Count(outcome => outcome.IsWrong);
        double[] times = [.. outcomes.Select(outcome => outcome.Milliseconds).Order()];
        (double low, double high) = Interval.Wilson(right, outcomes.Length);
        string Share(Func<LocateOutcome, bool> test) => Percent(outcomes.Count(test) / count);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"| {cell.Name} | {outcomes.Length} | {Share(outcome => outcome.TopIsRight)} | {Percent(right / count)} / {100 * wrong / count:0.00} / {Percent((count - right - wrong) / count)} | {Percent(low)} to {Percent(high)} | {Share(outcome => outcome.IsRight && outcome.Result.IsStrict)} / {Share(outcome => outcome.IsWrong && outcome.Result.IsStrict)} | {Share(outcome => outcome.SetIsRight)} / {Share(outcome => outcome.SetIsWrong)} | {Share(outcome => outcome.Result.Claim == LocateClaim.NothingExplains)} | {times[times.Length / 2]:0} |");
    }

    private static string LogLine(LocateCell cell, LocateOutcome outcome)
    {
        LocateFit? fit = outcome.Result.Fit;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{cell.Name},{outcome.Seed},{outcome.Result.Claim},{(outcome.TopIsRight ? 1 : 0)},{1 - outcome.Result.ClassScore:E2},{fit?.Unexplained:0.0000},{fit?.UnexplainedError:0.0000},{fit?.OwnShare:0.000},{fit?.SpillShare:0.000},{fit?.MarginOverNone:0.0},{fit?.SpillScale},{fit?.Changes},{fit?.LightChanges},{fit?.Samples},{outcome.Result.Hypotheses},{fit?.Response:0.00},{fit?.LagSamples},{outcome.Result.Best?.LogLikelihood:0.0},{outcome.Result.RunnerUp?.LogLikelihood:0.0},{outcome.Result.ClassMembers.Count},{(outcome.SetIsRight ? 1 : 0)},{(outcome.SetIsWrong ? 1 : 0)},{outcome.Milliseconds:0.0},{fit?.Imperfection:0.0},{fit?.RivalsWithSpill:E2}");
    }

    private static string Percent(double share) => (100 * share).ToString("0.0", CultureInfo.InvariantCulture);

    /// <summary>Options as pairs of a name and a value.</summary>
    internal static Dictionary<string, string> Options(string[] arguments)
    {
        Dictionary<string, string> options = new(StringComparer.Ordinal);
        for (int i = 0; i + 1 < arguments.Length; i += 2)
        {
            options[arguments[i].TrimStart('-')] = arguments[i + 1];
        }

        return options;
    }
}
