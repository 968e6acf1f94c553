using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Locate;

/// <summary>Measured light over time: one level, or red, green and blue.</summary>
public sealed class LightTrace
{
    /// <summary>Longest time without a reading that is filled in, samples: a quarter of a second.</summary>
    private const double LongestFilled = 0.25 * SlotHistory.RatePerSecond;

    private readonly Timestamp[] _times;
    private readonly double[][] _channels;

    /// <summary>Makes a trace.</summary>
    /// <param name="times">Moments, strictly rising, at least two.</param>
    /// <param name="channels">One or three series of finite values, each as long as the times.</param>
    public LightTrace(Timestamp[] times, double[][] channels)
    {
        ArgumentNullException.ThrowIfNull(times);
        ArgumentNullException.ThrowIfNull(channels);
        if (times.Length < 2 || channels.Length is not (1 or 3) || channels.Any(channel => channel.Length != times.Length))
        {
            throw new ArgumentException("a trace has one or three channels, each as long as its times", nameof(channels));
        }

        _times = times;
        _channels = channels;
    }

    /// <summary>1 for a level, 3 for red, green and blue.</summary>
    public int ChannelCount => _channels.Length;

    /// <summary>Number of readings.</summary>
    public int Count => _times.Length;

    /// <summary>The first moment.</summary>
    public Timestamp First => _times[0];

    /// <summary>The last moment.</summary>
    public Timestamp Last => _times[^1];

    /// <summary>How far its clock may be from the capture's; one clock by itself.</summary>
    public TraceClock Clock { get; init; }

    /// <summary>The same light at other times, by the capture's clock.</summary>
    /// <param name="by">What is added to each time.</param>
    public LightTrace Shifted(Duration by) => new([.. _times.Select(time => time + by)], _channels);

    /// <summary>The moments.</summary>
    public IReadOnlyList<Timestamp> Times => _times;

    /// <summary>The readings of a channel.</summary>
    /// <param name="channel">0, or 0 to 2.</param>
    public IReadOnlyList<double> Channel(int channel) => _channels[channel];

    /// <summary>
    /// The trace on the grid of the histories: the mean of the readings of a sample's interval where there are some,
    /// else the straight line between the neighbours. Where readings are missing for long (clipped pictures of a video) there
    /// is no value: a straight line would be light that nobody saw.
    /// </summary>
    internal TraceGrid ToGrid(Timestamp start, int samples)
    {
        const double Rate = SlotHistory.RatePerSecond;
        double[] places = new double[_times.Length];
        for (int i = 0; i < places.Length; i++)
        {
            places[i] = (_times[i] - start).TotalSeconds * Rate;
        }

        int first = (int)Math.Clamp(Math.Ceiling(places[0] - 1e-6), 0, samples);
        int last = (int)Math.Clamp(Math.Floor(places[^1] + 1e-6), -1, samples - 1);
        int[] kept = Kept(places, first, last);
        double[][] grid = [.. _channels.Select(_ => new double[kept.Length])];
        int from = 0;
        for (int k = 0; k < kept.Length; k++)
        {
            double at = kept[k];
            while (from < places.Length && places[from] < at - 0.5)
            {
                from++;
            }

            int to = from;
            while (to < places.Length && places[to] < at + 0.5)
            {
                to++;
            }

            for (int c = 0; c < grid.Length; c++)
            {
                grid[c][k] = to - from > 1 ? Mean(_channels[c], from, to) : Between(places, _channels[c], at, from);
            }
        }

        return new TraceGrid(kept, grid, [.. _channels.Select(channel => Noise(channel, places, first, last))]);
    }

    private static int[] Kept(double[] places, int first, int last)
    {
        double[] gaps = [.. Enumerable.Range(1, places.Length - 1).Select(i => places[i] - places[i - 1])];
        double usual = gaps.Order().ElementAt(gaps.Length / 2);
        double longest = Math.Max(LongestFilled, 3 * usual);
        List<int> kept = [];
        int right = 1;
        for (int k = first; k <= last; k++)
        {
            while (right < places.Length - 1 && places[right] < k)
            {
                right++;
            }

            if (places[right] - places[right - 1] <= longest || k - places[right - 1] < 0.5 || places[right] - k < 0.5)
            {
                kept.Add(k);
            }
        }

        return [.. kept];
    }

    /// <summary>
    /// From the readings themselves, not from the grid: between slow readings the grid is a straight line and looks
    /// quieter than it is, and the mean of fast ones really is.
    /// </summary>
    private static double Noise(double[] values, double[] places, int first, int last)
    {
        int from = Math.Max(0, Array.FindIndex(places, place => place >= first - 0.5));
        int to = Array.FindLastIndex(places, place => place <= last + 0.5);
        return to - from < 2 ? 0
            : NoiseLevel.Variance(values.AsSpan(from, to - from + 1)) * (places[to] - places[from]) / (to - from);
    }

    private static double Mean(double[] values, int from, int to)
    {
        double sum = 0;
        for (int i = from; i < to; i++)
        {
            sum += values[i];
        }

        return sum / (to - from);
    }

    private static double Between(double[] places, double[] values, double at, int near)
    {
        int right = Math.Clamp(near, 1, places.Length - 1);
        while (right < places.Length - 1 && places[right] < at)
        {
            right++;
        }

        double share = (at - places[right - 1]) / (places[right] - places[right - 1]);
        return values[right - 1] + (Math.Clamp(share, 0, 1) * (values[right] - values[right - 1]));
    }
}
