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
        Heading();
        LocateCalibration calibration = new();
        foreach (LocateCell cell in LocateCell.All.Where(cell => names.Length == 0 || names.Contains(cell.Name)))
        {
            int count = scaled && cell.IsHeadline ? 1000 : rigs;
            LocateOutcome[] outcomes = new LocateOutcome[count];
            Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = threads }, i => outcomes[i] = LocateOutcome.Of(cell, seed + i));
            string[] lines = [.. outcomes.Select(outcome => LogLine(cell, outcome))];
            Console.WriteLine(Row(cell.Name, [.. lines.Select(LoggedRig.Parse).OfType<LoggedRig>()]));
            foreach (LocateOutcome outcome in outcomes)
            {
                calibration.Add(outcome);
            }

            foreach (string line in lines)
            {
                log?.WriteLine(line);
            }

            log?.Flush();
        }

        calibration.Write(Console.Out);
        return 0;
    }

    /// <summary>The same table from logs of it: what was run in parts is put together.</summary>
    internal static void WriteLogged(IEnumerable<LoggedRig> rigs)
    {
        Heading();
        ILookup<string, LoggedRig> cells = rigs.ToLookup(rig => rig.Cell);
        foreach (LocateCell cell in LocateCell.All.Where(cell => cells.Contains(cell.Name)))
        {
            Console.WriteLine(Row(cell.Name, [.. cells[cell.Name]]));
        }
    }

    private static void Heading()
    {
        Console.WriteLine("| cell | rigs | top of ranking right | claims right / wrong / open, % | right, 95 % interval | strict right / wrong | with \"one of up to 6\" right / wrong | nothing explains | median ms |");
        Console.WriteLine("|---|---|---|---|---|---|---|---|---|");
    }

    private static string Row(string cell, LoggedRig[] rigs)
    {
        double count = rigs.Length;
        int right = rigs.Count(rig => rig.Claims && rig.IsRight);
        int wrong = rigs.Count(rig => rig.Claims && !rig.IsRight);
        double[] times = [.. rigs.Select(rig => rig.Milliseconds).Order()];
        (double low, double high) = Interval.Wilson(right, rigs.Length);
        string Share(Func<LoggedRig, bool> test) => Percent(rigs.Count(test) / count);
        return string.Create(
            CultureInfo.InvariantCulture,
            $"| {cell} | {rigs.Length} | {Share(rig => rig.IsRight)} | {Percent(right / count)} / {100 * wrong / count:0.00} / {Percent((count - right - wrong) / count)} | {Percent(low)} to {Percent(high)} | {Share(rig => rig.IsStrict && rig.IsRight)} / {Share(rig => rig.IsStrict && !rig.IsRight)} | {Share(rig => rig.SetIsRight)} / {Share(rig => rig.SetIsWrong)} | {Share(rig => rig.Claim == LocateClaim.NothingExplains)} | {times[times.Length / 2]:0} |");
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
