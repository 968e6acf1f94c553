using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Universes;

/// <summary>
/// The levels (START code 0) of each sender on each universe: what they are now, how often they changed, how many slots
/// were sent, and the interval at which unchanged levels are repeated. Slots of other START codes, of termination packets
/// and of cut or damaged packets never reach the levels.
/// </summary>
public sealed class LevelAnalyzer : IAnalyzer
{
    /// <summary>Shortest interval between equal frames that counts as a keep-alive rather than as the running rate.</summary>
    public static readonly Duration ShortestKeepAlive = Duration.FromMilliseconds(250);

    private const int MostSlots = 512;
    private const int EqualBeforeKeepAlive = 3;
    private readonly PerIndex<Track> _tracks = new();

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.StartCode != 0 || (frame.Flags & (FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged)) != 0)
        {
            return;
        }

        ref Track track = ref _tracks[frame.Stream];
        ReadOnlySpan<byte> slots = frame.Slots;
        track.Frames++;
        track.SlotCounts.Add(slots.Length);
        if (track.Levels is null)
        {
            track.Levels = new byte[MostSlots];
        }
        else if (slots.Length == track.SlotCount && slots.SequenceEqual(track.Levels.AsSpan(0, slots.Length)))
        {
            Duration interval = frame.Time - track.Last;
            if (interval >= ShortestKeepAlive && interval <= ProtocolTimes.LossOf(frame.Universe.Protocol))
            {
                (track.KeepAlive ??= new IntervalHistogram()).Add(interval);
                CountRun(ref track);
            }

            track.Same++;
            track.Last = frame.Time;
            return;
        }
        else
        {
            track.Changes++;
            track.IsSettled = false;
            Mark(track.Moved ??= new byte[MostSlots], track.Levels, slots[..Math.Min(slots.Length, track.SlotCount)]);
        }

        track.Same = 1;

        slots.CopyTo(track.Levels);
        track.SlotCount = slots.Length;
        track.Last = frame.Time;
    }

    // Three packets with unchanged values come before the rate is reduced (E1.31-2018 section 6.6.2); the first after a
    // change is counted as one of them, the reading that is kinder to the sender.
    private static void CountRun(ref Track track)
    {
        if (!track.IsSettled && track.Changes > 0)
        {
            track.Runs++;
            track.ShortRuns += track.Same < EqualBeforeKeepAlive ? 1 : 0;
        }

        track.IsSettled = true;
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>The slots last sent on a stream, slot 1 first; empty when none came. Valid until the next frame.</summary>
    public ReadOnlySpan<byte> Levels(int stream)
    {
        if (stream >= _tracks.Count)
        {
            return [];
        }

        ref Track track = ref _tracks[stream];
        return track.Levels is null ? [] : track.Levels.AsSpan(0, track.SlotCount);
    }

    /// <summary>The figures of a stream.</summary>
    public LevelSnapshot Snapshot(int stream)
    {
        Track track = stream < _tracks.Count ? _tracks[stream] : default;
        return new LevelSnapshot(track.Frames, track.Changes, track.KeepAlive?.Snapshot(), track.SlotCounts.Snapshot(), track.Runs, track.ShortRuns)
        {
            MovedSlots = track.Moved is null ? 0 : MostSlots - track.Moved.AsSpan().Count((byte)0),
            SlotsUp = track.Levels is null ? 0 : track.SlotCount - track.Levels.AsSpan(0, track.SlotCount).Count((byte)0),
        };
    }

    // Every bit that ever differed stays set: which slots moved, sixteen at a time.
    private static void Mark(byte[] moved, byte[] before, ReadOnlySpan<byte> slots)
    {
        ref byte now = ref MemoryMarshal.GetReference(slots);
        int whole = slots.Length & ~(Vector128<byte>.Count - 1);
        for (nuint i = 0; i < (nuint)whole; i += (nuint)Vector128<byte>.Count)
        {
            (Vector128.LoadUnsafe(ref moved[0], i) | (Vector128.LoadUnsafe(ref now, i) ^ Vector128.LoadUnsafe(ref before[0], i))).StoreUnsafe(ref moved[0], i);
        }

        for (int i = whole; i < slots.Length; i++)
        {
            moved[i] |= (byte)(slots[i] ^ before[i]);
        }
    }

    private struct Track
    {
        public byte[]? Levels;
        public byte[]? Moved;
        public int SlotCount;
        public Timestamp Last;
        public long Frames;
        public long Changes;
        public long Same;
        public long Runs;
        public long ShortRuns;
        public bool IsSettled;
        public IntervalHistogram? KeepAlive;
        public ValueTally SlotCounts;
    }
}
