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
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.StartCode != 0 || (frame.Flags & (FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged)) != 0)
        {
            return;
        }

        ref Track track = ref _tracks[frame.Stream];
        ReadOnlySpan<byte> slots = frame.Slots;
        long now = frame.Time.UnixNanoseconds;
        track.Count(now);
        if (track.Levels is null)
        {
            track.Levels = new byte[MostSlots];
            track.Changed = new long[MostSlots];
            Array.Fill(track.Changed, long.MinValue);
            slots.CopyTo(track.Levels);
            track.SlotCount = slots.Length;
            return;
        }

        if (!slots.SequenceEqual(track.Levels.AsSpan(0, slots.Length)))
        {
            for (int slot = 0; slot < slots.Length; slot++)
            {
                if (track.Levels[slot] != slots[slot])
                {
                    track.Levels[slot] = slots[slot];
                    track.Changed![slot] = now;
                }
            }
        }

        track.SlotCount = slots.Length;
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
