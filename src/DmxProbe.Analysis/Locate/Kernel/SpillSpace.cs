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

    private SpillSpace(double[][] vectors, double[] values)
    {
        Vectors = vectors;
        Values = values;
    }

    /// <summary>Orthonormal, each as long as the window.</summary>
    public double[][] Vectors { get; }

    /// <summary>Eigenvalues at s = 1, falling.</summary>
    public double[] Values { get; }

    public int Dimension => Values.Length;

    /// <summary>Builds the space.</summary>
    /// <param name="columns">Centred predictions of the other units; may be none.</param>
    public static SpillSpace Of(IReadOnlyList<double[]> columns)
    {
        List<double[]> basis = Orthonormal(columns);
        int rank = basis.Count;
        if (rank == 0)
        {
            return new SpillSpace([], []);
        }

        double[,] moment = new double[rank, rank];
        double[] total = new double[rank];
        double[] place = new double[rank];
        foreach (double[] column in columns)
        {
            for (int r = 0; r < rank; r++)
            {
                place[r] = Lanes.Dot(basis[r], column);
                total[r] += place[r];
            }

            AddOuter(moment, place);
        }

        AddOuter(moment, total);
        (double[] values, double[,] vectors) = SymmetricEigen.Of(moment);
        int kept = 0;
        while (kept < Math.Min(rank, MaxKept) && values[kept] > Smallest * values[0])
        {
            kept++;
        }

        double[][] result = new double[kept][];
        for (int k = 0; k < kept; k++)
        {
            result[k] = new double[basis[0].Length];
            for (int r = 0; r < rank; r++)
            {
                Lanes.AddScaled(result[k], basis[r], vectors[r, k]);
            }
        }

        return new SpillSpace(result, values[..kept]);
    }

    /// <summary>Gram-Schmidt, the largest remainder first; each new vector is orthogonalised twice.</summary>
    private static List<double[]> Orthonormal(IReadOnlyList<double[]> columns)
    {
        List<double[]> basis = [];
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

            basis.Add(vector);
            for (int i = 0; i < rest.Length; i++)
            {
                double along = Lanes.Dot(vector, columns[i]);
                rest[i] -= along * along;
            }

            rest[pick] = 0;
        }

        return basis;
    }

    private static void AddOuter(double[,] moment, double[] vector)
    {
        for (int i = 0; i < vector.Length; i++)
        {
            for (int j = 0; j < vector.Length; j++)
            {
                moment[i, j] += vector[i] * vector[j];
            }
        }
    }
}
