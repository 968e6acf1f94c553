namespace DmxProbe.Analysis.Locate;

/// <summary>Cholesky factor of a small symmetric positive matrix.</summary>
internal sealed class Cholesky
{
    private readonly double[,] _factor;
    private readonly int _size;

    /// <summary>Factors; the matrix given is not changed.</summary>
    public Cholesky(double[,] matrix)
    {
        _size = matrix.GetLength(0);
        _factor = new double[_size, _size];
        for (int i = 0; i < _size; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double sum = matrix[i, j];
                for (int k = 0; k < j; k++)
                {
                    sum -= _factor[i, k] * _factor[j, k];
                }

                _factor[i, j] = i == j ? Math.Sqrt(Math.Max(sum, 1e-300)) : sum / _factor[j, j];
            }

            LogDeterminant += 2 * Math.Log(_factor[i, i]);
        }
    }

    public double LogDeterminant { get; }

    /// <summary>Solves in place.</summary>
    public void Solve(Span<double> right)
    {
        for (int i = 0; i < _size; i++)
        {
            double sum = right[i];
            for (int k = 0; k < i; k++)
            {
                sum -= _factor[i, k] * right[k];
            }

            right[i] = sum / _factor[i, i];
        }

        for (int i = _size - 1; i >= 0; i--)
        {
            double sum = right[i];
            for (int k = i + 1; k < _size; k++)
            {
                sum -= _factor[k, i] * right[k];
            }

            right[i] = sum / _factor[i, i];
        }
    }

    /// <summary>The inverse of the factor, lower triangular, row after row.</summary>
    public void InverseFactor(Span<double> inverse)
    {
        for (int i = 0; i < _size; i++)
        {
            for (int j = 0; j < i; j++)
            {
                double sum = 0;
                for (int k = j; k < i; k++)
                {
                    sum -= _factor[i, k] * inverse[(k * _size) + j];
                }

                inverse[(i * _size) + j] = sum / _factor[i, i];
            }

            inverse[(i * _size) + i] = 1 / _factor[i, i];
        }
    }
}
