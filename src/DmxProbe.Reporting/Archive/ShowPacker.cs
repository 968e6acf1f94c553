using System.Collections.Concurrent;

using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Archive;

/// <summary>
/// Packs the levels of a recording into the tables of an archive (docs/archive.md). It is fed like any analyzer; a second thread
/// writes. Frames of START code 0, whole and undamaged; all of them, in the order in which they came.
/// </summary>
public sealed class ShowPacker : IAnalyzer, IDisposable
{
    private const long SegmentNanoseconds = 10_000_000_000;
    private const long HourNanoseconds = 3_600_000_000_000;
    private const int MostWaiting = 32;

    /// <summary>Octets kept back by itself, once of open segments and once of row groups that are not full.</summary>
    public const long MostOctets = 128L * 1024 * 1024;

    private readonly RecordDecoder _decoder;
    private readonly long _mostOctets;
    private readonly List<PackedSegment?> _open = [];
    private readonly BlockingCollection<PackedSegment> _waiting = new(MostWaiting);
    private readonly ArchiveWriter _writer;
    private readonly Task _writing;
    private long _segments;
    private long _openOctets;
    private volatile bool _isGivenUp;

    /// <summary>Begins to pack.</summary>
    /// <param name="decoder">The decoder that will feed this; names the senders.</param>
    /// <param name="show">What the recording is of.</param>
    /// <param name="create">Makes a file of the archive; it is disposed when it is whole.</param>
    /// <param name="mostOctets">Octets kept back: with more senders than have room, segments and row groups are smaller.</param>
    public ShowPacker(RecordDecoder decoder, ArchiveShow show, Func<ArchivePlace, Stream> create, long mostOctets = MostOctets)
    {
        ArgumentNullException.ThrowIfNull(decoder);
        _decoder = decoder;
        _mostOctets = mostOctets;
        _writer = new ArchiveWriter(show, create, mostOctets);
        _writing = Task.Run(Write);
    }

    /// <summary>Frames packed.</summary>
    public long Frames { get; private set; }

    /// <summary>Slot values packed: slots of all frames.</summary>
    public long Values { get; private set; }

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        const FrameFlags NoLevels = FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged;
        if (frame.StartCode != 0 || (frame.Flags & NoLevels) != 0 || frame.Slots.Length == 0)
        {
            return;
        }

        while (_open.Count <= frame.Stream)
        {
            _open.Add(null);
        }

        PackedSegment? segment = _open[frame.Stream];
        if (segment is not null && !Fits(segment, in frame))
        {
            Hand(segment);
            segment = null;
        }

        _openOctets -= segment?.Slots.Length ?? 0;

        segment ??= _open[frame.Stream] = new PackedSegment(frame.Universe, _decoder.Senders.Describe(_decoder.Streams.SenderOf(frame.Stream)), ++_segments, frame.Slots.Length);
        segment.Add(in frame);
        _openOctets += segment.Slots.Length;
        if (_openOctets > _mostOctets)
        {
            Hand(segment);
            _open[frame.Stream] = null;
        }

        Frames++;
        Values += frame.Slots.Length;
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>Writes what is left and closes all files.</summary>
    /// <exception cref="IOException">A file could not be written.</exception>
    public void Finish()
    {
        foreach (PackedSegment segment in _open.OfType<PackedSegment>())
        {
            Hand(segment);
        }

        _open.Clear();
        _waiting.CompleteAdding();
        _writing.GetAwaiter().GetResult();
        _writer.Finish();
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        if (!_waiting.IsAddingCompleted)
        {
            _isGivenUp = true; // nobody wants the files any more
            _waiting.CompleteAdding();
        }

        try
        {
            _writing.Wait();
        }
        catch (AggregateException)
        {
            // Finish says it; who disposes without it has another reason to stop.
        }

        _writer.Dispose();
        _waiting.Dispose();
    }

    private static bool Fits(PackedSegment segment, in DmxFrame frame)
    {
        long first = segment.Times[0];
        long time = frame.Time.UnixNanoseconds;
        return segment.SlotCount == frame.Slots.Length
            && segment.Frames < PackedSegment.MostFrames
            && time >= segment.Times[^1] // a clock that was set back begins another
            && time - first < SegmentNanoseconds
            && Hour(time) == Hour(first);
    }

    /// <summary>Hours since 1970, rounded down.</summary>
    internal static long Hour(long nanoseconds)
    {
        (long hours, long rest) = Math.DivRem(nanoseconds, HourNanoseconds);
        return rest < 0 ? hours - 1 : hours;
    }

    private void Hand(PackedSegment segment)
    {
        _openOctets -= segment.Slots.Length;
        if (_writing.IsFaulted)
        {
            _writing.GetAwaiter().GetResult();
        }

        // The writer may fail while this waits for room.
        while (!_waiting.TryAdd(segment, 100))
        {
            if (_writing.IsCompleted)
            {
                _writing.GetAwaiter().GetResult();
                return;
            }
        }
    }

    private void Write()
    {
        foreach (PackedSegment segment in _waiting.GetConsumingEnumerable())
        {
            if (!_isGivenUp)
            {
                _writer.Add(segment);
            }
        }
    }
}
