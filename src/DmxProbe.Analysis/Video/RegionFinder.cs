namespace DmxProbe.Analysis.Video;

/// <summary>Finds the regions of a video that change most: lights, or the spots they throw.</summary>
public static class RegionFinder
{
    /// <summary>Most regions offered.</summary>
    public const int MostRegions = 6;

    private const double SmallestDeviation = 3; // code values: below that it is the camera's own noise
    private const double ShareOfSeed = 0.4;
    private const double SmallestLikeness = 0.9;
    private const double SmallestShareOfBest = 0.12;
    private const int Clipped = 250;

    /// <summary>Finds them, the one that changes most first.</summary>
    /// <param name="pictures">The video, small.</param>
    /// <param name="width">Width of the regions' picture, pixels.</param>
    /// <param name="height">Its height.</param>
    public static IReadOnlyList<PictureRegion> Find(SmallPictures pictures, int width, int height)
    {
        ArgumentNullException.ThrowIfNull(pictures);
        if (pictures.Count < 2)
        {
            return [];
        }

        int size = pictures.Width * pictures.Height;
        double[] deviation = new double[size];
        double[] score = new double[size];
        double[] mean = new double[size];
        for (int p = 0; p < size; p++)
        {
            Measure(pictures, p, out mean[p], out deviation[p], out double clipped);
            score[p] = deviation[p] * (1 - clipped);
        }

        bool[] taken = new bool[size];
        List<PictureRegion> found = [];
        double best = 0;
        while (found.Count < MostRegions)
        {
            int seed = -1;
            for (int p = 0; p < size; p++)
            {
                seed = !taken[p] && (seed < 0 || score[p] > score[seed]) ? p : seed;
            }

            if (seed < 0 || score[seed] < SmallestDeviation || score[seed] < SmallestShareOfBest * best)
            {
                break;
            }

            best = Math.Max(best, score[seed]);
            found.Add(Grow(pictures, seed, mean, deviation, taken).Scaled(pictures.Width, pictures.Height, width, height));
        }

        return found;
    }

    private static void Measure(SmallPictures pictures, int place, out double mean, out double deviation, out double clipped)
    {
        double sum = 0;
        double squares = 0;
        int bright = 0;
        for (int t = 0; t < pictures.Count; t++)
        {
            byte value = pictures[t][place];
            sum += value;
            squares += value * value;
            bright += value >= Clipped ? 1 : 0;
        }

        mean = sum / pictures.Count;
        deviation = Math.Sqrt(Math.Max(0, (squares / pictures.Count) - (mean * mean)));
        clipped = (double)bright / pictures.Count;
    }

    // The region is what moves with the seed and nearly as much; its halo, which moves with it but little, is taken too, so
    // that it is not offered again.
    private static PictureRegion Grow(SmallPictures pictures, int seed, double[] mean, double[] deviation, bool[] taken)
    {
        int width = pictures.Width;
        int left = seed % width;
        int right = left;
        int top = seed / width;
        int bottom = top;
        Queue<int> open = new([seed]);
        taken[seed] = true;
        while (open.TryDequeue(out int place))
        {
            int x = place % width;
            int y = place / width;
            if (deviation[place] >= ShareOfSeed * deviation[seed])
            {
                left = Math.Min(left, x);
                right = Math.Max(right, x);
                top = Math.Min(top, y);
                bottom = Math.Max(bottom, y);
            }

            for (int near = 0; near < 9; near++)
            {
                int nextX = x + (near % 3) - 1;
                int nextY = y + (near / 3) - 1;
                int next = (nextY * width) + nextX;
                if (nextX >= 0 && nextX < width && nextY >= 0 && nextY < pictures.Height && !taken[next]
                    && deviation[next] >= 1 && deviation[next] <= 1.5 * deviation[place] && Likeness(pictures, seed, next, mean, deviation) >= SmallestLikeness)
                {
                    taken[next] = true;
                    open.Enqueue(next);
                }
            }
        }

        return new PictureRegion(left, top, right - left + 1, bottom - top + 1);
    }

    private static double Likeness(SmallPictures pictures, int one, int other, double[] mean, double[] deviation)
    {
        double sum = 0;
        for (int t = 0; t < pictures.Count; t++)
        {
            sum += (pictures[t][one] - mean[one]) * (pictures[t][other] - mean[other]);
        }

        return sum / pictures.Count / Math.Max(1e-9, deviation[one] * deviation[other]);
    }
}
