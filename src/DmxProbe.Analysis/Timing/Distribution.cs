namespace DmxProbe.Analysis.Timing;

/// <summary>
/// How often which value was measured, in constant memory: classes 1/256 of their octave wide, each remembering the first
/// value that fell into it, so that values on a coarse grid (a recorder's samples) are told exactly. Least, greatest and
/// mean are exact.
/// </summary>
/// <param name="offset">Added before classing: values may be as low as minus this.</param>
public sealed class Distribution(double offset = 0)
{
    private const int MantissaBits = 8;
    private const int LowestExponent = -6;
    private const int HighestExponent = 31;
    private const int Classes = (HighestExponent - LowestExponent) << MantissaBits;
    private const int ExponentBias = 1023;
    private const int ExponentShift = 52;

    private readonly int[] _counts = new int[Classes + 1];
    private readonly double[] _firsts = new double[Classes + 1];

    // Whether other values than the first fell into a class: it then stands for a range.
    private readonly bool[] _isRange = new bool[Classes + 1];
    private double _mean;
    private double _squares;

    /// <summary>Values counted.</summary>
    public long Count { get; private set; }

    /// <summary>Least value; NaN without any.</summary>
    public double Least { get; private set; } = double.NaN;

    /// <summary>Greatest value; NaN without any.</summary>
    public double Most { get; private set; } = double.NaN;

    /// <summary>Mean; NaN without any.</summary>
    public double Mean => Count == 0 ? double.NaN : _mean;

    /// <summary>Standard deviation of the values measured; NaN with fewer than two.</summary>
    public double Deviation => Count < 2 ? double.NaN : Math.Sqrt(_squares / (Count - 1));

    /// <summary>Counts a value; what is not finite is left out.</summary>
    public void Add(double value)
    {
        if (!double.IsFinite(value))
        {
            return;
        }

        int place = ClassOf(value + offset);
        if (_counts[place] == 0)
        {
            _firsts[place] = value;
        }

        _isRange[place] |= _firsts[place] != value;
        _counts[place] = _counts[place] == int.MaxValue ? int.MaxValue : _counts[place] + 1;
        Count++;
        double apart = value - _mean;
        _mean += apart / Count;
        _squares += apart * (value - _mean);
        Least = Count == 1 ? value : Math.Min(Least, value);
        Most = Count == 1 ? value : Math.Max(Most, value);
    }

    /// <summary>The value that a share of all values does not exceed, to 1/256 of it; NaN without values.</summary>
    /// <param name="share">0 to 1.</param>
    public double Percentile(double share)
    {
        long rank = Math.Max(1, (long)Math.Ceiling(share * Count));
        long seen = 0;
        for (int place = 0; place <= Classes; place++)
        {
            seen += _counts[place];
            if (seen >= rank && _counts[place] > 0)
            {
                return _firsts[place];
            }
        }

        return Most;
    }

    /// <summary>
    /// The values as at most so many bars: one for each value where they are few (or for each class of 1/256 of its octave, where
    /// several values fell into one), else of equal width.
    /// </summary>
    /// <param name="most">Most bars, 1 or more.</param>
    public IReadOnlyList<DistributionBar> Bars(int most) => Bars(most, value => value, Least, Most);

    /// <summary>The same for a figure that is computed from each value: a rate from an interval.</summary>
    /// <param name="most">Most bars, 1 or more.</param>
    /// <param name="of">The figure; it must rise with the value throughout, or fall.</param>
    public IReadOnlyList<DistributionBar> Bars(int most, Func<double, double> of)
    {
        ArgumentNullException.ThrowIfNull(of);
        return Count == 0 || !double.IsFinite(of(Least) - of(Most)) ? [] : Bars(most, of, Math.Min(of(Least), of(Most)), Math.Max(of(Least), of(Most)));
    }

    private IReadOnlyList<DistributionBar> Bars(int most, Func<double, double> of, double least, double greatest)
    {
        List<(double Value, double From, double To, int Count)> taken = [];
        for (int place = 0; place <= Classes; place++)
        {
            if (_counts[place] > 0)
            {
                (double low, double high) = _isRange[place] ? (Math.Max(Least, StartOf(place)), Math.Min(Most, StartOf(place + 1))) : (_firsts[place], _firsts[place]);
                taken.Add((of(_firsts[place]), Math.Min(of(low), of(high)), Math.Max(of(low), of(high)), _counts[place]));
            }
        }

        taken.Sort((one, other) => one.Value.CompareTo(other.Value));

        if (taken.Count <= most)
        {
            return [.. taken.Select(each => new DistributionBar(each.From, each.To, each.Count))];
        }

        double width = (greatest - least) / most;
        long[] counts = new long[most];
        foreach ((double value, _, _, int count) in taken)
        {
            counts[Math.Clamp((int)((value - least) / width), 0, most - 1)] += count;
        }

        return [.. counts.Select((count, bar) => new DistributionBar(least + bar * width, least + (bar + 1) * width, count))];
    }

    // Where a class begins; the first holds everything below the second, the last everything above.
    private double StartOf(int place) => place <= 0 ? double.NegativeInfinity
        : place > Classes ? double.PositiveInfinity
        : Math.ScaleB(1 + ((double)((place - 1) & ((1 << MantissaBits) - 1)) / (1 << MantissaBits)), ((place - 1) >> MantissaBits) + LowestExponent) - offset;

    private static int ClassOf(double value)
    {
        long bits = BitConverter.DoubleToInt64Bits(value);
        int exponent = (int)(bits >> ExponentShift) - ExponentBias;
        if (value <= 0 || exponent < LowestExponent)
        {
            return 0;
        }

        int place = ((exponent - LowestExponent) << MantissaBits)
            + (int)((bits >> (ExponentShift - MantissaBits)) & ((1 << MantissaBits) - 1)) + 1;
        return Math.Min(place, Classes);
    }
}
