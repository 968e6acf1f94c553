using System.Runtime.CompilerServices;
using DmxProbe.Analysis.Arbitration;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Loss;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Timing;
using DmxProbe.Analysis.Universes;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Survey;

/// <summary>
/// The short way of a sender that runs. A frame that differs from the one before it in nothing but levels and the next sequence
/// number, and comes soon after it, means the same to six analyzers: one more of those. It is counted here, in one small entry a
/// stream, and they are told the sum before anything else happens on that stream and before anybody asks them.
/// </summary>
internal sealed class RunningStreams(
    LevelAnalyzer levels,
    SequenceAnalyzer sequences,
    ArrivalAnalyzer arrivals,
    PresenceAnalyzer presence,
    NetworkAnalyzer network,
    ArbitrationAnalyzer arbitration,
    Deafness deafness)
{
    // Whose slots are no levels, or who ends.
    private const FrameFlags Special = FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged;

    // Nothing happens in a shorter interval: no keep-alive, no gap before a burst.
    private static readonly long LongestNanoseconds = Math.Min(BurstFinder.Gap.Nanoseconds, ArrivalAnalyzer.LongestRunning.Nanoseconds - 1);

    private readonly PerIndex<Entry> _entries = new();

    /// <summary>Takes the frame of a sender that runs.</summary>
    /// <returns>False where it is another one: nothing was done, <see cref="Settle"/> and all analyzers come next.</returns>
    public bool TryTake(in DmxFrame frame)
    {
        ref Entry entry = ref _entries[frame.Stream];
        if ((frame.StartCode | frame.SyncAddress) != 0
            || frame.Flags != entry.Flags
            || frame.Priority != entry.Priority
            || frame.Host != entry.Host
            || frame.Print.Value == 0
            || !TryCount(ref entry, frame.Stream, frame.Time, frame.Sequence, frame.Print, frame.Slots))
        {
            return false;
        }

        if (!entry.IsOnly)
        {
            arbitration.OnFrame(in frame);
        }

        return true;
    }

    /// <summary>As <see cref="TryTake"/>, for a frame of which the decoder knows that all else is as in the one before.</summary>
    public bool TryRepeat(int stream, Timestamp time, byte sequence, PacketPrint print, ReadOnlySpan<byte> slots)
    {
        ref Entry entry = ref _entries[stream];
        return entry.IsOnly && entry.TakesRepeats && TryCount(ref entry, stream, time, sequence, print, slots);
    }

    /// <summary>The only sender of its universe is it no longer, or somebody else has to be weighed against it.</summary>
    /// <param name="stream">Its stream.</param>
    /// <param name="sequence">Brought up to its last frame.</param>
    /// <param name="last">Brought up to its last frame.</param>
    public void NoLongerOnly(int stream, ref byte sequence, ref Timestamp last)
    {
        if (stream < _entries.Count && _entries[stream] is { Levels: not null, IsOnly: true } entry)
        {
            sequence = entry.Sequence;
            last = entry.Last;
            _entries[stream].IsOnly = false;
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private bool TryCount(ref Entry entry, int stream, Timestamp time, byte sequence, PacketPrint print, ReadOnlySpan<byte> slots)
    {
        long since = (time - entry.Last).Nanoseconds;
        if (entry.Levels is not byte[] before
            || unchecked((ulong)since) > (ulong)LongestNanoseconds
            || unchecked((byte)(sequence - entry.Sequence)) != 1
            || slots.Length != entry.SlotCount)
        {
            return false;
        }

        unchecked
        {
            entry.Count++;
            entry.Same++;
            if (!slots.SequenceEqual(before.AsSpan(0, slots.Length)))
            {
                levels.Change(stream, slots);
                entry.Changes++;
                entry.Same = 1;
            }
        }

        IntervalHistogram.Increment(ref entry.Bins[IntervalHistogram.BinOf(unchecked((ulong)since))]);
        if (since > entry.Longest)
        {
            entry.Longest = since;
            entry.LongestFrom = entry.Last;
        }

        if (since < entry.Shortest)
        {
            entry.Shortest = since;
        }

        entry.Last = time;
        entry.Print = print;
        entry.Sequence = sequence;
        network.Passed(entry.Sender, sequence);
        return true;
    }

    /// <summary>After all analyzers took a frame: whether the next one of its stream may go the short way.</summary>
    public void Begin(in DmxFrame frame)
    {
        if (frame.StartCode != 0
            || frame.SyncAddress != 0
            || (frame.Flags & (Special | FrameFlags.SequenceCounted)) != FrameFlags.SequenceCounted
            || !sequences.Follows(in frame)
            || !network.Follows(in frame)
            || arrivals.RunningOf(in frame) is not IntervalHistogram intervals
            || levels.RunningOf(in frame, out long same) is not byte[] before)
        {
            return;
        }

        ref Entry entry = ref _entries[frame.Stream];
        entry.Levels = before;
        entry.Bins = intervals.Bins;
        entry.Last = frame.Time;
        entry.Shortest = long.MaxValue;
        entry.Longest = intervals.Maximum.Nanoseconds;
        entry.LongestFrom = Timestamp.MinValue;
        entry.Same = same;
        entry.Count = 0;
        entry.Changes = 0;
        entry.SlotCount = frame.Slots.Length;
        entry.Host = frame.Host;
        entry.Flags = frame.Flags;
        entry.Priority = frame.Priority;
        entry.Sequence = frame.Sequence;
        entry.Print = frame.Print;
        entry.Sender = frame.Sender;
        entry.Universe = frame.UniverseIndex;
        entry.IsOnly = arbitration.IsOnly(in frame);
        entry.TakesRepeats = frame.Universe.Protocol == UniverseProtocol.Sacn; // ArtSync counts ArtDmx by its sender
    }

    /// <summary>Tells the analyzers what was counted of a stream; its next frame is for them.</summary>
    public void Settle(int stream)
    {
        if (stream >= _entries.Count || _entries[stream].Levels is null)
        {
            return;
        }

        ref Entry entry = ref _entries[stream];
        entry.Levels = null;
        if (entry.Count == 0)
        {
            return;
        }

        levels.Ran(stream, entry.Count, entry.Changes, entry.Same, entry.SlotCount, entry.Last);
        sequences.Ran(stream, entry.Count, entry.Sequence, entry.Last);
        arrivals.Ran(stream, entry.Count, entry.Shortest, entry.Longest, entry.LongestFrom, entry.Last);
        presence.Ran(stream, entry.Count, entry.Flags, entry.Last);
        deafness.Heard(entry.Last);
        if (entry.IsOnly)
        {
            arbitration.Ran(entry.Universe, stream, entry.Sequence, entry.Last);
        }

        network.Ran(stream, entry.Print, entry.Sequence, entry.Last);
    }

    /// <summary>As <see cref="Settle"/>, for all streams.</summary>
    public void SettleAll()
    {
        for (int stream = 0; stream < _entries.Count; stream++)
        {
            Settle(stream);
        }
    }

    private struct Entry
    {
        /// <summary>The levels last sent, those of <see cref="LevelAnalyzer"/>; null = the stream does not run.</summary>
        public byte[]? Levels;
        public int[] Bins;
        public Timestamp Last;
        public long Shortest;
        public long Longest;
        public Timestamp LongestFrom;
        public long Count;
        public long Changes;
        public long Same;
        public PacketPrint Print;
        public int SlotCount;
        public int Sender;
        public int Universe;
        public uint Host;
        public FrameFlags Flags;
        public byte Priority;
        public byte Sequence;

        /// <summary>Who wins is not asked: nobody else sends on the universe.</summary>
        public bool IsOnly;
        public bool TakesRepeats;
    }
}
