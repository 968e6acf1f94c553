using System.Globalization;
using DmxProbe.Analysis.Locate;

namespace DmxProbe.Benchmarks;

/// <summary>
/// Refits or checks the printed confidence of locating from logs of <c>locate-table</c>: <c>locate-calibrate fit LOG..</c> prints the
/// weights and levels for <see cref="LocateConfidence"/>; <c>locate-calibrate check LOG..</c> prints the ten bins of the confidence as it
/// is built; <c>locate-calibrate table LOG..</c> prints the table of the rigs in them. For the confidence every cell weighs the same,
/// however many rigs of it a log holds.
/// </summary>
public static class LocateCalibrate
{
    private const double Ridge = 1;
    private const int Rounds = 25;
    private const int Folds = 10;
    private const double SmallestLevel = 300;

    /// <summary>Runs it.</summary>
    public static int Run(string[] arguments)
    {
        if (arguments.Length < 2 || arguments[0] is not ("fit" or "check" or "table"))
        {
            Console.Error.WriteLine("locate-calibrate needs 'fit', 'check' or 'table' and the logs of locate-table --log");
            return 2;
        }

        LoggedRig[] logged = [.. arguments.Skip(1).SelectMany(File.ReadLines).Select(LoggedRig.Parse).OfType<LoggedRig>()];
        if (arguments[0] == "table")
        {
            LocateTable.WriteLogged(logged);
            return 0;
        }

        LoggedRig[] rigs = [.. logged.Where(rig => rig.Fit is not null)];
        Dictionary<string, double> weights = rigs.GroupBy(rig => rig.Cell).ToDictionary(cell => cell.Key, cell => 1.0 / cell.Count());
        double mean = rigs.Length / (double)weights.Count;
        (LoggedRig Rig, double Weight)[] weighed = [.. rigs.Select(rig => (rig, weights[rig.Cell] * mean))];
        if (arguments[0] == "check")
        {
            LocateCalibration calibration = new();
            foreach ((LoggedRig rig, double weight) in weighed)
            {
                calibration.Add(rig.Claim, LocateConfidence.Of(rig.Claim, rig.Posterior, rig.Fit), rig.IsRight, weight);
            }

            calibration.Write(Console.Out);
            return 0;
        }

        (double[] Traits, bool IsRight, double Weight)[] open =
        [
            .. weighed.Where(each => each.Rig.Claim is LocateClaim.OneOf or LocateClaim.NotEnough)
                .Select(each => (LocateConfidence.Traits(each.Rig.Claim, each.Rig.Posterior, each.Rig.Fit!), each.Rig.IsRight, each.Weight)),
        ];
        double[] fitted = Logistic(open);
        Console.WriteLine($"{rigs.Length} rigs of {weights.Count} cells, {open.Length} of them without a claim");
        Console.WriteLine("Weights = [" + string.Join(", ", fitted.Select(weight => weight.ToString("0.000", CultureInfo.InvariantCulture))) + "]");

        // Each rig is scored with weights that were fitted without it: else the ends of the levels would promise too much.
        double[][] without = [.. Enumerable.Range(0, Folds).Select(fold => Logistic([.. open.Where((_, i) => i % Folds != fold)]))];
        foreach ((double from, double share, double held) in Levels([.. open.Select((each, i) => (LocateConfidence.Score(without[i % Folds], each.Traits), each.IsRight, each.Weight))]))
        {
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"({from:0.000}, {share:0.000}), // {held:0} rigs"));
        }

        int nothing = rigs.Count(rig => rig.Claim == LocateClaim.NothingExplains);
        Console.WriteLine($"nothing explains: right {rigs.Count(rig => rig.Claim == LocateClaim.NothingExplains && rig.IsRight)} of {nothing}");
        return 0;
    }

    /// <summary>Newton's method; all weights but the first are drawn towards 0 a little.</summary>
    private static double[] Logistic((double[] Traits, bool IsRight, double Weight)[] rigs)
    {
        int size = LocateConfidence.TraitCount;
        double[] weights = new double[size];
        for (int round = 0; round < Rounds; round++)
        {
            double[,] curvature = new double[size, size];
            double[] slope = new double[size];
            for (int i = 1; i < size; i++)
            {
                curvature[i, i] = Ridge;
                slope[i] = -Ridge * weights[i];
            }

            foreach ((double[] traits, bool right, double weight) in rigs)
            {
                double share = 1 / (1 + Math.Exp(-LocateConfidence.Score(weights, traits)));
                for (int i = 0; i < size; i++)
                {
                    slope[i] += weight * ((right ? 1 : 0) - share) * traits[i];
                    for (int k = 0; k < size; k++)
                    {
                        curvature[i, k] += weight * share * (1 - share) * traits[i] * traits[k];
                    }
                }
            }

            double[] step = Solve(curvature, slope);
            for (int i = 0; i < size; i++)
            {
                weights[i] += step[i];
            }
        }

        return weights;
    }

    /// <summary>Gauss, with the largest pivot.</summary>
    private static double[] Solve(double[,] matrix, double[] right)
    {
        int size = right.Length;
        for (int i = 0; i < size; i++)
        {
            int pivot = Enumerable.Range(i, size - i).MaxBy(row => Math.Abs(matrix[row, i]));
            for (int k = 0; k < size; k++)
            {
                (matrix[i, k], matrix[pivot, k]) = (matrix[pivot, k], matrix[i, k]);
            }

            (right[i], right[pivot]) = (right[pivot], right[i]);
            for (int row = 0; row < size; row++)
            {
                double factor = row == i ? 0 : matrix[row, i] / matrix[i, i];
                for (int k = 0; k < size; k++)
                {
                    matrix[row, k] -= factor * matrix[i, k];
                }

                right[row] -= factor * right[i];
            }
        }

        return [.. right.Select((value, i) => value / matrix[i, i])];
    }

    /// <summary>Monotone regression (pool adjacent violators), then the smallest block joins its nearer neighbour until all are large enough.</summary>
    private static IEnumerable<(double From, double Share, double Held)> Levels((double Score, bool IsRight, double Weight)[] rigs)
    {
        List<(double From, double Right, double Held)> blocks = [];
        foreach (IGrouping<double, (double Score, bool IsRight, double Weight)> same in rigs.GroupBy(rig => rig.Score).OrderBy(group => group.Key))
        {
            blocks.Add((same.Key, same.Where(rig => rig.IsRight).Sum(rig => rig.Weight), same.Sum(rig => rig.Weight)));
            while (blocks.Count > 1 && blocks[^2].Right / blocks[^2].Held >= blocks[^1].Right / blocks[^1].Held)
            {
                Join(blocks, blocks.Count - 2);
            }
        }

        while (blocks.Count > 1 && blocks.Min(block => block.Held) < SmallestLevel)
        {
            int small = Enumerable.Range(0, blocks.Count).MinBy(i => blocks[i].Held);
            double Share(int i) => i < 0 || i >= blocks.Count ? double.PositiveInfinity : blocks[i].Right / blocks[i].Held;
            Join(blocks, Math.Abs(Share(small - 1) - Share(small)) < Math.Abs(Share(small + 1) - Share(small)) ? small - 1 : small);
        }

        return blocks.Select(block => (block.From, block.Right / block.Held, block.Held));
    }

    private static void Join(List<(double From, double Right, double Held)> blocks, int first)
    {
        blocks[first] = (blocks[first].From, blocks[first].Right + blocks[first + 1].Right, blocks[first].Held + blocks[first + 1].Held);
        blocks.RemoveAt(first + 1);
    }
}
