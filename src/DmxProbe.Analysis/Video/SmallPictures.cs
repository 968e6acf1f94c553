namespace DmxProbe.Analysis.Video;

/// <summary>
/// A whole video as small pictures of its luminance, about ten a second, in bounded memory: what is needed to find the
/// regions that change and to see the exposure drift.
/// </summary>
public sealed class SmallPictures
{
    /// <summary>Most bytes kept; beyond that every second picture is given up.</summary>
    public const int MostBytes = 96 << 20;

    private readonly List<byte[]> _kept = [];
    private readonly double[] _sum;
    private int _every;
    private int _summed;

    /// <summary>Starts with none.</summary>
    /// <param name="width">Pixels across.</param>
    /// <param name="height">Pixels down.</param>
    /// <param name="picturesPerSecond">Of the video; 0 where unknown.</param>
    public SmallPictures(int width, int height, double picturesPerSecond)
    {
        Width = width;
        Height = height;
        _every = Math.Max(1, (int)Math.Round(picturesPerSecond / 10));
        _sum = new double[width * height];
    }

    /// <summary>Pixels across.</summary>
    public int Width { get; }

    /// <summary>Pixels down.</summary>
    public int Height { get; }

    /// <summary>Pictures added.</summary>
    public int Added { get; private set; }

    /// <summary>Pictures kept.</summary>
    public int Count => _kept.Count;

    /// <summary>Pictures of the video for one that is kept.</summary>
    public int Every => _every;

    /// <summary>A kept picture.</summary>
    public ReadOnlySpan<byte> this[int index] => _kept[index];

    /// <summary>Adds a picture.</summary>
    /// <param name="pixels">Red, green, blue of each pixel, row by row.</param>
    public void Add(ReadOnlySpan<byte> pixels)
    {
        for (int i = 0; i < _sum.Length; i++)
        {
            // Weights of luma in Rec. ITU-R BT.709.
            _sum[i] += (0.2126 * pixels[3 * i]) + (0.7152 * pixels[(3 * i) + 1]) + (0.0722 * pixels[(3 * i) + 2]);
        }

        Added++;
        if (++_summed < _every)
        {
            return;
        }

        byte[] picture = new byte[_sum.Length];
        for (int i = 0; i < picture.Length; i++)
        {
            picture[i] = (byte)Math.Clamp(Math.Round(_sum[i] / _summed), 0, 255);
            _sum[i] = 0;
        }

        _summed = 0;
        _kept.Add(picture);
        if ((long)_kept.Count * picture.Length > MostBytes)
        {
            Thin();
        }
    }

    private void Thin()
    {
        for (int i = 0; i < _kept.Count / 2; i++)
        {
            _kept[i] = _kept[2 * i];
        }

        _kept.RemoveRange(_kept.Count / 2, _kept.Count - (_kept.Count / 2));
        _every *= 2;
    }
}
