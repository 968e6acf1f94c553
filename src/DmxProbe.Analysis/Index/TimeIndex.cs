using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Universes;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>
/// Places in a capture by time, one a second, so that any slot at any time can be asked without reading the capture from
/// its start. Sparse: a mark holds a position, not levels.
/// </summary>
public sealed class TimeIndex
{
    /// <summary>Shortest time between two marks.</summary>
    public static readonly Duration Spacing = Duration.FromSeconds(1);

    /// <summary>
    /// How much earlier a question starts reading: longer than the longest protocol time-out (10 s, Art-Net merge), so that
    /// every sender that counts at that time has been heard.
    /// </summary>
    public static readonly Duration RunUp = Duration.FromSeconds(12);

    private readonly List<(Timestamp Time, CapturePosition Position)> _marks = [];

    private TimeIndex()
    {
    }

    /// <summary>Marks held.</summary>
    public int Count => _marks.Count;

    /// <summary>Reads a source to its end and marks its places.</summary>
    /// <param name="source">The source, at its start.</param>
    /// <param name="cancellation">Stops early; what was marked until then serves.</param>
    public static TimeIndex Build(ISeekableSource source, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(source);
        TimeIndex index = new();
        Timestamp next = Timestamp.MinValue;
        while (!cancellation.IsCancellationRequested && source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            if (record.Time >= next && source.TryMark(out CapturePosition position))
            {
                index._marks.Add((record.Time, position));
                next = record.Time + Spacing;
            }
        }

        return index;
    }

    /// <summary>The levels of a universe as they were at a time, one entry per sender heard in the 12 s before.</summary>
    /// <param name="source">The same capture; left somewhere behind that time.</param>
    /// <param name="universe">The universe.</param>
    /// <param name="at">The time; records of that very time count.</param>
    /// <returns>The sender and its slots, slot 1 first; empty when nobody sent the universe then.</returns>
    public IReadOnlyList<LevelsAt> Ask(ISeekableSource source, UniverseId universe, Timestamp at)
    {
        ArgumentNullException.ThrowIfNull(source);
        if (_marks.Count == 0)
        {
            return [];
        }

        source.Seek(PositionBefore(at - RunUp));
        RecordDecoder decoder = new() { Interfaces = source.Interfaces };
        LevelAnalyzer levels = new();
        while (source.Read(out CaptureRecord record) == ReadStatus.Record && record.Time <= at)
        {
            decoder.Decode(in record, levels);
        }

        List<LevelsAt> found = [];
        for (int stream = 0; stream < decoder.Streams.Count; stream++)
        {
            if (decoder.Streams.Universe(decoder.Streams.UniverseIndexOf(stream)) == universe && levels.Levels(stream) is { Length: > 0 } slots)
            {
                found.Add(new LevelsAt(decoder.Senders.Describe(decoder.Streams.SenderOf(stream)), slots.ToArray()));
            }
        }

        return found;
    }

    /// <summary>Goes to the last place that is not later than a time.</summary>
    /// <param name="source">The same capture.</param>
    /// <param name="time">The time.</param>
    /// <param name="start">The time of that place; null where it is the capture's start.</param>
    /// <returns>False where the capture holds nothing.</returns>
    internal bool SeekBefore(ISeekableSource source, Timestamp time, out Timestamp? start)
    {
        start = null;
        if (_marks.Count == 0)
        {
            return false;
        }

        int mark = MarkBefore(time);
        source.Seek(_marks[mark].Position);
        start = mark == 0 ? null : _marks[mark].Time;
        return true;
    }

    // The last mark not later than a time; the first where all are later.
    private CapturePosition PositionBefore(Timestamp time) => _marks[MarkBefore(time)].Position;

    private int MarkBefore(Timestamp time)
    {
        int low = 0;
        int high = _marks.Count - 1;
        while (low < high)
        {
            int middle = (low + high + 1) / 2;
            if (_marks[middle].Time <= time)
            {
                low = middle;
            }
            else
            {
                high = middle - 1;
            }
        }

        return low;
    }
}
