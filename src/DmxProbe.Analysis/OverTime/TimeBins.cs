using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.OverTime;

/// <summary>
/// Equal spans of time from the first moment on, at most <see cref="Most"/>: when the recording outgrows them, two neighbours
/// become one. So memory is bounded and no length has to be known beforehand.
/// </summary>
public sealed class TimeBins
{
    /// <summary>Most spans; an even number.</summary>
    public const int Most = 240;

    private readonly List<Action> _merge = [];
    private Timestamp? _start;

    /// <summary>Start of the first span; null before anything came.</summary>
    public Timestamp? Start => _start;

    /// <summary>Length of each span: half a second, doubled as often as was needed.</summary>
    public Duration Width { get; private set; } = Duration.FromMilliseconds(500);

    /// <summary>Spans from the first to the last moment seen.</summary>
    public int Count { get; private set; }

    /// <summary>Calls <paramref name="merge"/> when neighbours become one: entry 2n and 2n + 1 to n.</summary>
    public void OnMerge(Action merge) => _merge.Add(merge);

    /// <summary>The span of a moment; moments before the first belong to the first.</summary>
    public int Of(Timestamp time)
    {
        _start ??= time;
        // A damaged capture may put moments further apart than 64 bits can say.
        long past = (long)Int128.Clamp((Int128)time.UnixNanoseconds - _start.Value.UnixNanoseconds, 0, long.MaxValue);
        while (past / Width.Nanoseconds >= Most)
        {
            Width = Duration.FromNanoseconds(Width.Nanoseconds * 2);
            Count = (Count + 1) / 2;
            _merge.ForEach(merge => merge());
        }

        int bin = (int)(past / Width.Nanoseconds);
        Count = Math.Max(Count, bin + 1);
        return bin;
    }
}
