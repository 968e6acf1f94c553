namespace DmxProbe.Analysis.Video;

/// <summary>
/// How a camera's exposure wandered, from the places that should look the same throughout. An exposure lifts and lowers
/// them all alike; light that falls on them does not, and is then left alone.
/// </summary>
public sealed class ExposureDrift
{
    private const int DarkestUsable = 24;
    private const int BrightestUsable = 235;
    private const int FewestPlaces = 40;
    private const double SmallestWorthCorrecting = 0.03;
    private readonly double[] _gains;
    private readonly int _every;

    private ExposureDrift(double[] gains, int every, bool isKnown)
    {
        _gains = gains;
        _every = every;
        IsKnown = isKnown;
        double[] sorted = [.. gains.Order()];
        Range = sorted.Length < 2 ? 0 : sorted[(int)(0.98 * (sorted.Length - 1))] - sorted[(int)(0.02 * (sorted.Length - 1))];
    }

    /// <summary>Whether the pictures show it at all: steady places bright enough and in agreement.</summary>
    public bool IsKnown { get; }

    /// <summary>Between the highest and the lowest gain of 96 % of the pictures; 0.1 is a tenth of the exposure.</summary>
    public double Range { get; }

    /// <summary>Whether it is known and large enough to be divided out.</summary>
    public bool IsCorrected => IsKnown && Range >= SmallestWorthCorrecting;

    /// <summary>Measures it.</summary>
    public static ExposureDrift Of(SmallPictures pictures, ToneCurve curve)
    {
        ArgumentNullException.ThrowIfNull(pictures);
        ArgumentNullException.ThrowIfNull(curve);
        double[] light = curve.Table();
        List<int> places = [];
        List<double> usual = [];
        byte[] column = new byte[pictures.Count];
        for (int p = 0; pictures.Count > 0 && p < pictures.Width * pictures.Height; p++)
        {
            for (int t = 0; t < column.Length; t++)
            {
                column[t] = pictures[t][p];
            }

            Array.Sort(column);
            byte median = column[column.Length / 2];
            if (median is >= DarkestUsable and <= BrightestUsable && column[0] > 4)
            {
                places.Add(p);
                usual.Add(light[median]);
            }
        }

        if (places.Count < Math.Max(FewestPlaces, pictures.Width * pictures.Height / 20))
        {
            return new ExposureDrift([], 1, isKnown: false);
        }

        double[] gains = new double[pictures.Count];
        double[] spread = new double[pictures.Count];
        double[] ratios = new double[places.Count];
        for (int t = 0; t < gains.Length; t++)
        {
            for (int i = 0; i < ratios.Length; i++)
            {
                ratios[i] = light[pictures[t][places[i]]] / usual[i];
            }

            Array.Sort(ratios);
            gains[t] = ratios[ratios.Length / 2];
            spread[t] = ratios[3 * ratios.Length / 4] - ratios[ratios.Length / 4];
        }

        double[] smooth = Smoothed(gains);
        double moved = Enumerable.Range(0, gains.Length).Average(t => Math.Abs(smooth[t] - 1));
        double apart = spread.Average();
        return new ExposureDrift(smooth, pictures.Every, isKnown: apart <= Math.Max(0.04, moved));
    }

    /// <summary>The gain at a picture of the video, 1 = usual; between kept pictures the straight line.</summary>
    /// <param name="picture">Number of the picture, from 0.</param>
    public double At(int picture)
    {
        if (!IsCorrected)
        {
            return 1;
        }

        double place = Math.Clamp(((picture + 0.5) / _every) - 0.5, 0, _gains.Length - 1);
        int left = Math.Min((int)place, _gains.Length - 1);
        int right = Math.Min(left + 1, _gains.Length - 1);
        return Math.Max(0.05, _gains[left] + ((place - left) * (_gains[right] - _gains[left])));
    }

    private static double[] Smoothed(double[] gains) =>
        [.. Enumerable.Range(0, gains.Length).Select(t => gains.AsSpan(Math.Max(0, t - 1), Math.Min(gains.Length, t + 2) - Math.Max(0, t - 1)).ToArray().Average())];
}
