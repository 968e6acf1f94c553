using System.Numerics;
using System.Runtime.CompilerServices;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Timing;

/// <summary>
/// Counts intervals in bins that are one 32nd of their octave wide, from 1.024 us to 68.7 s; shorter and longer ones fall
/// into the end bins. 3.3 kB, allocated once.
/// </summary>
public sealed class IntervalHistogram
{
    private const int BinsPerOctaveBits = 5;
    private const int BinsPerOctave = 1 << BinsPerOctaveBits;
    private const int LowestOctave = 10;
    private const int HighestOctave = 35;
    private const double NanosecondsPerMillisecond = 1e6;

    private readonly int[] _bins = new int[(HighestOctave - LowestOctave + 1) * BinsPerOctave];
    private long _minimum = long.MaxValue;
    private long _maximum = long.MinValue;
    private double _sum;

    /// <summary>Intervals counted.</summary>
    public long Count { get; private set; }

    /// <summary>The bins, for who counts many short intervals and then says so by <see cref="AddCounted"/>.</summary>
    internal int[] Bins => _bins;

    /// <summary>Longest interval; zero when there is none.</summary>
    public Duration Maximum => Duration.FromNanoseconds(Count == 0 ? 0 : _maximum);

    /// <summary>Sum of all intervals, in seconds.</summary>
    public double TotalSeconds => _sum / 1e9;

    /// <summary>Counts an interval; a negative one (the clock stepped back) is left out.</summary>
    public void Add(Duration interval)
    {
        if (interval.Nanoseconds >= 0)
        {
            AddAndCompare(interval.Nanoseconds);
        }
    }

    /// <summary>Counts an interval that is not negative.</summary>
    /// <returns>Whether it is the longest so far.</returns>
    internal bool AddAndCompare(long nanoseconds)
    {
        Count++;
        _sum += nanoseconds;
        if (nanoseconds < _minimum)
        {
            _minimum = nanoseconds;
        }

        Increment(ref _bins[BinOf((ulong)nanoseconds)]);
        if (nanoseconds <= _maximum)
        {
            return false;
        }

        _maximum = nanoseconds;
        return nanoseconds > 0;
    }

    /// <summary>Takes intervals that are in the bins already.</summary>
    /// <param name="count">How many.</param>
    /// <param name="nanoseconds">Their sum.</param>
    /// <param name="shortest">The shortest of them.</param>
    /// <param name="longest">The longest of them and all before.</param>
    /// <returns>Whether one of them is the longest so far.</returns>
    internal bool AddCounted(long count, long nanoseconds, long shortest, long longest)
    {
        Count += count;
        _sum += nanoseconds;
        _minimum = Math.Min(_minimum, shortest);
        if (longest <= _maximum)
        {
            return false;
        }

        _maximum = longest;
        return longest > 0;
    }

    /// <summary>Counts one more in a bin.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static void Increment(ref int bin)
    {
        int more = unchecked(bin + 1);
        bin = more < 0 ? int.MaxValue : more;
    }

    /// <summary>The figures, or null when nothing was counted.</summary>
    public IntervalStatistics? Snapshot() => Count == 0
        ? null
        : new IntervalStatistics(
            Count,
            Duration.FromNanoseconds(_minimum),
            Mean(),
            Percentile(0.50),
            Percentile(0.95),
            Percentile(0.99),
            Duration.FromNanoseconds(_maximum));

    /// <summary>A percentile among the intervals shorter than a limit, to the width of a bin; zero when there are none.</summary>
    /// <param name="share">0 to 1.</param>
    /// <param name="limit">Intervals in bins at or above its own are left out.</param>
    public Duration PercentileBelow(double share, Duration limit)
    {
        int end = Math.Min(BinOf((ulong)Math.Max(0, limit.Nanoseconds)), LastBin + 1);
        long count = 0;
        for (int bin = FirstBin; bin < end; bin++)
        {
            count += _bins[bin];
        }

        return count == 0 ? Duration.Zero : Percentile(share, count);
    }

    /// <summary>The histogram, with as many neighbouring bins put together as it takes.</summary>
    /// <param name="most">Bars at most.</param>
    /// <returns>Bars in milliseconds from the shortest to the longest interval, empty ones between them too; empty when nothing was counted.</returns>
    public IReadOnlyList<DistributionBar> Bars(int most)
    {
        if (Count == 0)
        {
            return [];
        }

        int first = FirstBin;
        int last = LastBin;
        int together = (last - first + most) / most;
        List<DistributionBar> bars = [];
        for (int bin = first; bin <= last; bin += together)
        {
            long count = 0;
            int end = Math.Min(last + 1, bin + together);
            for (int each = bin; each < end; each++)
            {
                count += _bins[each];
            }

            // The end bins hold what lies beyond them too.
            long from = bin == first ? _minimum : Math.Clamp(StartOf(bin), _minimum, _maximum);
            long to = end > last ? _maximum : Math.Clamp(StartOf(end), _minimum, _maximum);
            bars.Add(new DistributionBar(from / NanosecondsPerMillisecond, to / NanosecondsPerMillisecond, count));
        }

        return bars;
    }

    // All bins outside of these two are empty; from the first to the one before it while nothing was counted.
    private int FirstBin => Count == 0 ? 0 : BinOf((ulong)_minimum);

    private int LastBin => Count == 0 ? -1 : BinOf((ulong)_maximum);

    private static long StartOf(int bin) =>
        (long)(BinsPerOctave + bin % BinsPerOctave) << (bin / BinsPerOctave + LowestOctave - BinsPerOctaveBits);

    // The mean of intervals of centuries rounds to 2^63 as a double, which 64 bit do not hold.
    private Duration Mean()
    {
        double mean = Math.Round(_sum / Count);
        return Duration.FromNanoseconds(mean >= _maximum ? _maximum : (long)mean);
    }

    /// <summary>The bin of an interval.</summary>
    internal static int BinOf(ulong nanoseconds)
    {
        int octave = BitOperations.Log2(nanoseconds | 1);
        if (octave < LowestOctave)
        {
            return 0;
        }

        if (octave > HighestOctave)
        {
            return (HighestOctave - LowestOctave + 1) * BinsPerOctave - 1;
        }

        return unchecked(
            ((int)(nanoseconds >> (octave - BinsPerOctaveBits)) & (BinsPerOctave - 1)) + ((octave - LowestOctave) * BinsPerOctave));
    }

    // The middle of the bin that holds the rank, never outside the exact extremes.
    private Duration Percentile(double share) => Percentile(share, Count);

    private Duration Percentile(double share, long count)
    {
        long rank = Math.Max(1, (long)Math.Ceiling(share * count));
        long seen = 0;
        for (int bin = FirstBin; bin < _bins.Length; bin++)
        {
            seen += _bins[bin];
            if (seen >= rank)
            {
                int shift = bin / BinsPerOctave + LowestOctave - BinsPerOctaveBits;
                long start = (long)(BinsPerOctave + bin % BinsPerOctave) << shift;
                long middle = start + (1L << shift) / 2;
                return Duration.FromNanoseconds(Math.Clamp(middle, _minimum, _maximum));
            }
        }

        return Duration.FromNanoseconds(_maximum);
    }
}
