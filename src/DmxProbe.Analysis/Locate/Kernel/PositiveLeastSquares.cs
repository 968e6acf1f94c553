using System.Runtime.InteropServices;

namespace DmxProbe.Analysis.Locate;

/// <summary>Least squares with coefficients of at least 0 and a price on each, by coordinate descent.</summary>
internal sealed class PositiveLeastSquares
{
    private const int MaxRounds = 400;
    private readonly double[,] _gram;
    private readonly double[] _along;
    private readonly double[] _prices;

    /// <summary>Prepares the products.</summary>
    /// <param name="columns">The columns.</param>
    /// <param name="target">What they should add up to.</param>
    /// <param name="prices">Cost of a unit of each, in units of half the squared error.</param>
    public PositiveLeastSquares(double[][] columns, double[] target, double[] prices)
    {
        int count = columns.Length;
        _gram = new double[count, count];
        _along = new double[count];
        _prices = prices;
        Parallel.For(0, count, i =>
        {
            _along[i] = Lanes.Dot(columns[i], target);
            for (int j = 0; j <= i; j++)
            {
                _gram[i, j] = _gram[j, i] = Lanes.Dot(columns[i], columns[j]);
            }
        });
    }

    /// <summary>The coefficients; those before <paramref name="from"/> stay 0.</summary>
    public double[] Solve(int from)
    {
        int count = _along.Length;
        double[] found = new double[count];
        double[] pull = [.. _along];
        for (int round = 0; round < MaxRounds; round++)
        {
            double largest = 0;
            for (int i = from; i < count; i++)
            {
                double size = _gram[i, i];
                if (size <= 1e-9)
                {
                    continue;
                }

                double next = Math.Max(0, found[i] + ((pull[i] - _prices[i]) / size));
                double step = next - found[i];
                if (step == 0)
                {
                    continue;
                }

                found[i] = next;
                Lanes.AddScaled(pull, MemoryMarshal.CreateReadOnlySpan(ref _gram[i, 0], count), -step);

                largest = Math.Max(largest, step * step * size);
            }

            if (largest < 1e-9 * Math.Max(_gram[0, 0], 1e-9))
            {
                break;
            }
        }

        return found;
    }
}
