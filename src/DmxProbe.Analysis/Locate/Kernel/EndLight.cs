namespace DmxProbe.Analysis.Locate;

/// <summary>A lagging light of one channel, over the window and on behind it.</summary>
internal sealed class EndLight
{
    private readonly IReadOnlyList<(int From, int To)> _masked;

    /// <summary>Takes a light.</summary>
    /// <param name="weighing">The samples that count.</param>
    /// <param name="channel">Which channel.</param>
    /// <param name="whole">The light, as much longer than the window as the longest delay.</param>
    /// <param name="light">The same over the window, taken.</param>
    /// <param name="masked">Where it is not predictable.</param>
    public EndLight(Weighing weighing, int channel, double[] whole, double[] light, IReadOnlyList<(int From, int To)> masked)
    {
        _masked = masked;
        Whole = whole;
        Light = light;
        OnSpill = weighing[channel].OnSpill(light);
        Squares = Lanes.Dot(light, light);
        Mean = MeanOf();
    }

    public double[] Whole { get; }

    /// <summary>Over the window, taken.</summary>
    public double[] Light { get; }

    /// <summary>Products of <see cref="Light"/> with the spill vectors.</summary>
    public double[] OnSpill { get; }

    /// <summary>Sum of squares of <see cref="Light"/>.</summary>
    public double Squares { get; }

    /// <summary>What was taken off.</summary>
    public double Mean { get; }

    public bool IsMasked(int at) => _masked.Any(span => span.From <= at && at < span.To);

    private double MeanOf()
    {
        double mean = 0;
        for (int t = 0; t < Light.Length; t++)
        {
            if (_masked.Count > 0 && Light[t] != 0)
            {
                // Where a gap is masked the taken light is 0: the mean is that of the samples that count.
                return Whole[t] - Light[t];
            }

            mean += Whole[t] - Light[t];
        }

        return mean / Light.Length;
    }
}
