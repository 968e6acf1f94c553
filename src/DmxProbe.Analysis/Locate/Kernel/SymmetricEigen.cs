namespace DmxProbe.Analysis.Locate;

/// <summary>Eigenvalues and eigenvectors of a small symmetric matrix by cyclic Jacobi rotations.</summary>
internal static class SymmetricEigen
{
    /// <summary>Eigenvalues falling; column k of the vectors belongs to value k. The matrix given is not changed.</summary>
    public static (double[] Values, double[,] Vectors) Of(double[,] matrix)
    {
        int n = matrix.GetLength(0);
        double[,] a = (double[,])matrix.Clone();
        double[,] v = new double[n, n];
        double scale = 0;
        for (int i = 0; i < n; i++)
        {
            v[i, i] = 1;
            scale += Math.Abs(a[i, i]);
        }

        for (int sweep = 0; sweep < 60; sweep++)
        {
            double off = 0;
            for (int p = 0; p < n - 1; p++)
            {
                for (int q = p + 1; q < n; q++)
                {
                    off += Math.Abs(a[p, q]);
                    Rotate(a, v, n, p, q);
                }
            }

            if (off <= 1e-13 * scale)
            {
                break;
            }
        }

        int[] order = [.. Enumerable.Range(0, n).OrderByDescending(i => a[i, i])];
        double[,] sorted = new double[n, n];
        for (int k = 0; k < n; k++)
        {
            for (int r = 0; r < n; r++)
            {
                sorted[r, k] = v[r, order[k]];
            }
        }

        return ([.. order.Select(i => a[i, i])], sorted);
    }

    private static void Rotate(double[,] a, double[,] v, int n, int p, int q)
    {
        double off = a[p, q];
        if (off == 0)
        {
            return;
        }

        double theta = (a[q, q] - a[p, p]) / (2 * off);
        double t = theta == 0 ? 1 : Math.Sign(theta) / (Math.Abs(theta) + Math.Sqrt((theta * theta) + 1));
        double c = 1 / Math.Sqrt((t * t) + 1);
        double s = t * c;
        for (int k = 0; k < n; k++)
        {
            (double kp, double kq) = (a[k, p], a[k, q]);
            a[k, p] = (c * kp) - (s * kq);
            a[k, q] = (s * kp) + (c * kq);
        }

        for (int k = 0; k < n; k++)
        {
            (double pk, double qk) = (a[p, k], a[q, k]);
            a[p, k] = (c * pk) - (s * qk);
            a[q, k] = (s * pk) + (c * qk);
            (double vp, double vq) = (v[k, p], v[k, q]);
            v[k, p] = (c * vp) - (s * vq);
            v[k, q] = (s * vp) + (c * vq);
        }
    }
}
