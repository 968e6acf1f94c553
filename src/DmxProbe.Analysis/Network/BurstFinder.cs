using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Network;

/// <summary>
/// Packets of one universe that come in heaps: a radio link, or a computer that was busy, holds them back and lets them
/// go at once. Five within 5 ms after a gap of more than 100 ms (common practice, no source). Packets captured twice do
/// not make a heap: a sequence number counts once. Asked only after a gap and while a heap may go on.
/// </summary>
internal sealed class BurstFinder
{
    /// <summary>Fewest packets of a burst.</summary>
    public const int Fewest = 5;

    /// <summary>All within this.</summary>
    public static readonly Duration Within = Duration.FromMilliseconds(5);

    /// <summary>After a gap longer than this.</summary>
    public static readonly Duration Gap = Duration.FromMilliseconds(100);

    private readonly Dictionary<int, Heap> _streams = [];

    /// <summary>Judges a packet by the time since the one before it.</summary>
    public void Look(ref PacketTrace trace, in DmxFrame frame, Duration interval)
    {
        if (!_streams.TryGetValue(frame.Stream, out Heap? heap))
        {
            _streams.Add(frame.Stream, heap = new Heap());
        }

        if (interval > Gap)
        {
            trace.Heap = 1;
            heap.Gap = interval;
            heap.Began = frame.Time;
        }
        else if (frame.Time - heap.Began > Within)
        {
            trace.Heap = 0;
        }
        else if (trace.Heap < ushort.MaxValue
            && ((frame.Flags & FrameFlags.SequenceCounted) == 0 || frame.Sequence != trace.Sequence))
        {
            trace.Heap++;
            heap.Grow(trace.Heap, frame.Record);
        }
    }

    /// <summary>The bursts of a stream.</summary>
    public BurstSnapshot Snapshot(int stream) => _streams.TryGetValue(stream, out Heap? heap) ? heap.Bursts : default;

    private sealed class Heap
    {
        public Timestamp Began { get; set; }

        public Duration Gap { get; set; }

        public BurstSnapshot Bursts { get; private set; }

        public void Grow(int packets, long record)
        {
            if (packets == Fewest)
            {
                bool isFirst = Bursts.Count == 0;
                Bursts = Bursts with
                {
                    Count = Bursts.Count + 1,
                    First = isFirst ? Began : Bursts.First,
                    FirstRecord = isFirst ? record : Bursts.FirstRecord,
                    Last = Began,
                    LongestGap = Gap > Bursts.LongestGap ? Gap : Bursts.LongestGap,
                };
            }

            if (packets >= Fewest && packets > Bursts.Largest)
            {
                Bursts = Bursts with { Largest = packets };
            }
        }
    }
}
