namespace DmxProbe.Analysis.Video;

/// <summary>
/// Measures one region, picture by picture: the mean of its linear light less the median of a frame around it. The median
/// leaves another light in that frame out as long as it fills less than half of it.
/// </summary>
public sealed class RegionMeter
{
    /// <summary>From this code value on a pixel counts as clipped.</summary>
    public const int ClippedCode = 251;

    /// <summary>Share of clipped pixels above which a picture is left out.</summary>
    public const double MostClipped = 0.03;

    private readonly int _width;
    private readonly PictureRegion _inner;
    private readonly PictureRegion _gap;
    private readonly PictureRegion _outer;
    private readonly double[] _light;
    private readonly List<RegionReading> _readings = [];

    /// <summary>Prepares it.</summary>
    /// <param name="region">In pixels of the pictures that come.</param>
    /// <param name="width">Their width.</param>
    /// <param name="height">Their height.</param>
    /// <param name="curve">Their tone curve.</param>
    public RegionMeter(PictureRegion region, int width, int height, ToneCurve curve)
    {
        ArgumentNullException.ThrowIfNull(curve);
        _width = width;
        _inner = region;
        _gap = Grown(region, Math.Max(2, Math.Max(region.Width, region.Height) / 2), width, height);
        _outer = Grown(region, Math.Max(5, Math.Max(region.Width, region.Height)), width, height);
        _light = curve.Table();
    }

    /// <summary>The readings so far.</summary>
    public IReadOnlyList<RegionReading> Readings => _readings;

    /// <summary>Measures a picture.</summary>
    /// <param name="pixels">Red, green, blue of each pixel, row by row.</param>
    /// <param name="picture">Its number.</param>
    public void Add(ReadOnlySpan<byte> pixels, int picture)
    {
        Span<double> sum = stackalloc double[3];
        sum.Clear();
        int clipped = 0;
        for (int y = _inner.Y; y < _inner.Y + _inner.Height; y++)
        {
            ReadOnlySpan<byte> row = pixels.Slice(3 * ((y * _width) + _inner.X), 3 * _inner.Width);
            for (int i = 0; i < row.Length; i += 3)
            {
                sum[0] += _light[row[i]];
                sum[1] += _light[row[i + 1]];
                sum[2] += _light[row[i + 2]];
                clipped += Math.Max(row[i], Math.Max(row[i + 1], row[i + 2])) >= ClippedCode ? 1 : 0;
            }
        }

        double count = (double)_inner.Width * _inner.Height;
        Span<int> around = stackalloc int[3];
        Around(pixels, around);
        _readings.Add(new RegionReading(
            picture,
            (float)((sum[0] / count) - _light[around[0]]),
            (float)((sum[1] / count) - _light[around[1]]),
            (float)((sum[2] / count) - _light[around[2]]),
            clipped > MostClipped * count));
    }

    private void Around(ReadOnlySpan<byte> pixels, Span<int> median)
    {
        Span<int> codes = stackalloc int[3 * 256];
        codes.Clear();
        int count = 0;
        for (int y = _outer.Y; y < _outer.Y + _outer.Height; y++)
        {
            bool crosses = y >= _gap.Y && y < _gap.Y + _gap.Height;
            for (int x = _outer.X; x < _outer.X + _outer.Width; x++)
            {
                if (crosses && x >= _gap.X && x < _gap.X + _gap.Width)
                {
                    x = _gap.X + _gap.Width - 1;
                    continue;
                }

                int at = 3 * ((y * _width) + x);
                codes[pixels[at]]++;
                codes[256 + pixels[at + 1]]++;
                codes[512 + pixels[at + 2]]++;
                count++;
            }
        }

        median.Clear();
        for (int c = 0; c < 3 && count > 0; c++)
        {
            int below = 0;
            while (below + codes[(256 * c) + median[c]] <= count / 2)
            {
                below += codes[(256 * c) + median[c]];
                median[c]++;
            }
        }
    }

    private static PictureRegion Grown(PictureRegion region, int by, int width, int height)
    {
        int left = Math.Max(0, region.X - by);
        int top = Math.Max(0, region.Y - by);
        int right = Math.Min(width, region.X + region.Width + by);
        int bottom = Math.Min(height, region.Y + region.Height + by);
        return new PictureRegion(left, top, right - left, bottom - top);
    }
}
