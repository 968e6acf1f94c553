namespace DmxProbe.Analysis.Locate;

/// <summary>
/// Where the light of the other units can be: the eigenvectors of s^2 B (I + 1 1^T) B^T, B the centred predictions of
/// the other units. Treated as a covariance, never as free columns: a light that follows another unit's address
/// would otherwise be explained away.
/// </summary>
internal sealed class SpillSpace
{
    private const int MaxRank = 64;
    private const int MaxKept = 24;
    private const double Smallest = 1e-4;

    private SpillSpace(double[][] vectors, double[] values, double[][] beyond)
    {
        Vectors = vectors;
        Values = values;
        Beyond = beyond;
    }

    /// <summary>Orthonormal, each as long as the window.</summary>
    public double[][] Vectors { get; }

    /// <summary>Eigenvalues at s = 1, falling.</summary>
    public double[] Values { get; }

    /// <summary>What each vector goes on with behind the window: what the same amounts of light most likely come to there.</summary>
    public double[][] Beyond { get; }

    public int Dimension => Values.Length;

    /// <summary>Builds the space.</summary>
    /// <param name="columns">Centred predictions of the other units; may be none.</param>
    /// <param name="tails">What they go on with behind the window, less the same means; may be none.</param>
    public static SpillSpace Of(IReadOnlyList<double[]> columns, IReadOnlyList<double[]> tails)
    {
        int size = columns.Count > 0 ? Blocks.Size(columns[0].Length) : 1;
        List<double[]> basis = Orthonormal(size == 1 ? columns : [.. columns.Select(column => Blocks.Of(column, size))], out double[][] places, out List<int> picks);
        int rank = basis.Count;
        if (rank == 0)
        {
            return new SpillSpace([], [], []);
        }

        double[,] moment = new double[rank, rank];
        double[] total = new double[rank];
        foreach (double[] place in places)
        {
            for (int r = 0; r < rank; r++)
            {
                total[r] += place[r];
            }

            AddOuter(moment, place, rank);
        }

        AddOuter(moment, total, rank);
        (double[] values, double[,] vectors) = SymmetricEigen.Of(moment);
        int kept = 0;
        while (kept < Math.Min(rank, MaxKept) && values[kept] > Smallest * values[0])
        {
            kept++;
        }

        double[][] result = size == 1
            ? [.. Enumerable.Range(0, kept).Select(k => Combined(basis, [.. Enumerable.Range(0, rank).Select(r => vectors[r, k])]))]
            : InFull([.. picks.Select(pick => columns[pick])], [.. picks.Select(pick => places[pick])], vectors, kept);
        return new SpillSpace(result, values[..kept], [.. Enumerable.Range(0, kept).Select(k => Continued(tails, places, vectors, k, values[k]))]);
    }

    /// <summary>
    /// A vector behind the window: the amounts of each unit that most likely make up the vector, (I + 1 1^T) B^T v / e, and what they
    /// come to there.
    /// </summary>
    private static double[] Continued(IReadOnlyList<double[]> tails, double[][] places, double[,] vectors, int k, double value)
    {
        double[] amounts = new double[tails.Count];
        for (int i = 0; i < amounts.Length; i++)
        {
            for (int r = 0; r < vectors.GetLength(0); r++)
            {
                amounts[i] += places[i][r] * vectors[r, k];
            }
        }

        double all = amounts.Sum();
        return tails.Count == 0 ? [] : Combined(tails, [.. amounts.Select(amount => (amount + all) / value)]);
    }

    private static double[] Combined(IReadOnlyList<double[]> series, double[] amounts)
    {
        double[] sum = new double[series[0].Length];
        for (int r = 0; r < amounts.Length; r++)
        {
            Lanes.AddScaled(sum, series[r], amounts[r]);
        }

        return sum;
    }

    /// <summary>
    /// The vectors found on blocks, in full: as combinations of the columns picked (their coordinates are a triangle, solved from
    /// its end), made orthonormal again.
    /// </summary>
    private static double[][] InFull(double[][] picked, double[][] places, double[,] vectors, int kept)
    {
        double[][] result = new double[kept][];
        for (int k = 0; k < kept; k++)
        {
            double[] amounts = new double[picked.Length];
            for (int r = picked.Length - 1; r >= 0; r--)
            {
                double left = vectors[r, k];
                for (int j = r + 1; j < picked.Length; j++)
                {
                    left -= places[j][r] * amounts[j];
                }

                amounts[r] = left / places[r][r];
            }

            result[k] = Combined(picked, amounts);
            for (int known = 0; known < k; known++)
            {
                Lanes.AddScaled(result[k], result[known], -Lanes.Dot(result[known], result[k]));
            }

            double scale = 1 / Math.Sqrt(Math.Max(Lanes.Dot(result[k], result[k]), 1e-300));
            foreach (ref double value in result[k].AsSpan())
            {
                value *= scale;
            }
        }

        return result;
    }

    /// <summary>Gram-Schmidt, the largest remainder first; each new vector is orthogonalised twice.</summary>
    /// <param name="columns">The columns.</param>
    /// <param name="places">The coordinates of each.</param>
    /// <param name="picks">The columns that the vectors were made of, in their order.</param>
    private static List<double[]> Orthonormal(IReadOnlyList<double[]> columns, out double[][] places, out List<int> picks)
    {
        List<double[]> basis = [];
        picks = [];
        double[][] along = [.. columns.Select(_ => new double[Math.Min(columns.Count, MaxRank)])];
        places = along;
        double[] rest = [.. columns.Select(column => Lanes.Dot(column, column))];
        double first = rest.Length > 0 ? rest.Max() : 0;
        while (basis.Count < Math.Min(columns.Count, MaxRank))
        {
            int pick = 0;
            for (int i = 1; i < rest.Length; i++)
            {
                pick = rest[i] > rest[pick] ? i : pick;
            }

            if (rest[pick] <= 1e-6 * first || first <= 0)
            {
                break;
            }

            double[] vector = [.. columns[pick]];
            for (int pass = 0; pass < 2; pass++)
            {
                foreach (double[] known in basis)
                {
                    Lanes.AddScaled(vector, known, -Lanes.Dot(known, vector));
                }
            }

            double scale = 1 / Math.Sqrt(Lanes.Dot(vector, vector));
            for (int t = 0; t < vector.Length; t++)
            {
                vector[t] *= scale;
            }

            int r = basis.Count;
            basis.Add(vector);
            picks.Add(pick);
            Parallel.For(0, rest.Length, i =>
            {
                along[i][r] = Lanes.Dot(vector, columns[i]);
                rest[i] -= along[i][r] * along[i][r];
            });

            rest[pick] = 0;
        }

        return basis;
    }

    private static void AddOuter(double[,] moment, double[] vector, int rank)
    {
        for (int i = 0; i < rank; i++)
        {
            for (int j = 0; j < rank; j++)
            {
                moment[i, j] += vector[i] * vector[j];
            }
        }
    }
}
