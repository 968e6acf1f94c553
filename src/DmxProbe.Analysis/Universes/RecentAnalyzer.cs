using System.Numerics;
using System.Runtime.Intrinsics;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Universes;

/// <summary>
/// What happened lately: when each slot of a stream last changed, and how many frames came in each of the last whole
/// seconds. Frames that never reach levels (other START codes, terminated, cut, damaged) are left out.
/// </summary>
public sealed class RecentAnalyzer : IAnalyzer
{
    /// <summary>Whole seconds kept.</summary>
    public const int Seconds = 8;

    private const int MostSlots = 512;
    private const long Second = 1_000_000_000;
    private readonly PerIndex<Track> _tracks = new();

    /// <inheritdoc/>
    public bool TakesEveryRepeat => true;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        ref Track track = ref _tracks[frame.Stream];
        track.IsFollowed = frame.StartCode == 0 && (frame.Flags & (FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged)) == 0;
        if (!track.IsFollowed)
        {
            return;
        }

        long now = frame.Time.UnixNanoseconds;
        if (track.Levels is null)
        {
            track.Levels = new byte[MostSlots];
            track.Changed = new long[MostSlots];
            Array.Fill(track.Changed, long.MinValue);
            frame.Slots.CopyTo(track.Levels);
        }

        Take(ref track, now, frame.Slots);
    }

    /// <inheritdoc/>
    public bool TryRepeat(int stream, Timestamp time, byte sequence, PacketPrint print, ReadOnlySpan<byte> slots)
    {
        // START code and flags are those of the frame before.
        ref Track track = ref _tracks[stream];
        if (track.IsFollowed)
        {
            Take(ref track, time.UnixNanoseconds, slots);
        }

        return true;
    }

    private static void Take(ref Track track, long now, ReadOnlySpan<byte> slots)
    {
        track.Count(now);
        track.SlotCount = slots.Length;
        if (!slots.SequenceEqual(track.Levels.AsSpan(0, slots.Length)))
        {
            Note(track.Levels!, track.Changed!, now, slots);
        }
    }

    // Of 512 slots a few change: sixteen are compared at once.
    private static void Note(byte[] levels, long[] changed, long now, ReadOnlySpan<byte> slots)
    {
        const uint all = 0xFFFF;
        int at = 0;
        for (; at <= slots.Length - Vector128<byte>.Count; at += Vector128<byte>.Count)
        {
            Vector128<byte> sent = Vector128.Create(slots[at..]);
            uint differ = all ^ Vector128.Equals(sent, Vector128.Create(levels, at)).ExtractMostSignificantBits();
            if (differ == 0)
            {
                continue;
            }

            sent.CopyTo(levels, at);
            for (; differ != 0; differ &= differ - 1)
            {
                changed[at + BitOperations.TrailingZeroCount(differ)] = now;
            }
        }

        for (; at < slots.Length; at++)
        {
            if (levels[at] != slots[at])
            {
                levels[at] = slots[at];
                changed[at] = now;
            }
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>The state of a stream at a time.</summary>
    /// <param name="stream">Index in <see cref="StreamTable"/>.</param>
    /// <param name="now">The time; not before the last frame.</param>
    /// <param name="levels">False: without the levels, which are most of it.</param>
    /// <returns>A copy; null when the stream carried no levels.</returns>
    public RecentSnapshot? Snapshot(int stream, Timestamp now, bool levels = true)
    {
        if (stream >= _tracks.Count || _tracks[stream] is not { Levels: byte[] slots, Changed: long[] changed } track)
        {
            return null;
        }

        long second = now.UnixNanoseconds / Second;
        int[] frames = new int[Seconds];
        for (int back = 1; back <= Seconds; back++)
        {
            frames[Seconds - back] = track.FramesIn(second - back);
        }

        return levels
            ? new RecentSnapshot(slots.AsSpan(0, track.SlotCount).ToArray(), changed.AsSpan(0, track.SlotCount).ToArray(), frames)
            : new RecentSnapshot([], [], frames) { SlotCount = track.SlotCount };
    }

    private struct Track
    {
        // One place more than is told: the second that is still running.
        private const int Places = Seconds + 1;
        private int[]? _frames;
        private long _second;

        public byte[]? Levels;
        public long[]? Changed;
        public int SlotCount;

        /// <summary>Whether the last frame of the stream was one of levels.</summary>
        public bool IsFollowed;

        public void Count(long now)
        {
            long second = now / Second;
            _frames ??= new int[Places];
            if (second > _second)
            {
                for (long empty = Math.Max(_second + 1, second - Places + 1); empty <= second; empty++)
                {
                    _frames[(int)(Math.Abs(empty) % Places)] = 0;
                }

                _second = second;
            }

            _frames[(int)(Math.Abs(_second) % Places)]++;
        }

        public readonly int FramesIn(long second) =>
            _frames is null || second > _second || second <= _second - Places ? 0 : _frames[(int)(Math.Abs(second) % Places)];
    }
}
