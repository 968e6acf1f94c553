using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Universes;

/// <summary>
/// The levels at the start of each of the last 60 seconds, for the universes of a sheet: enough to draw how a slot went.
/// 30 kB a stream.
/// </summary>
/// <param name="universes">The universes to keep; others cost nothing.</param>
public sealed class LevelLogAnalyzer(IReadOnlySet<UniverseId> universes) : IAnalyzer
{
    /// <summary>Seconds kept.</summary>
    public const int Seconds = 60;

    private const int MostSlots = 512;
    private const long Second = 1_000_000_000;
    private const FrameFlags NoLevels = FrameFlags.Preview | FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged;
    private readonly PerIndex<Track> _tracks = new();

    /// <inheritdoc/>
    public bool TakesEveryRepeat => true;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        ref Track track = ref _tracks[frame.Stream];
        track.IsFollowed = frame.StartCode == 0 && (frame.Flags & NoLevels) == 0 && universes.Contains(frame.Universe);
        if (!track.IsFollowed)
        {
            return;
        }

        if (track.Rows is null)
        {
            track.Rows = new byte[Seconds * MostSlots];
            track.At = new long[Seconds];
            track.Counts = new int[Seconds];
            Array.Fill(track.At, long.MinValue);
            track.Hold = ProtocolTimes.LossOf(frame.Universe.Protocol).Nanoseconds / Second;
        }

        Take(ref track, frame.Time, frame.Slots);
    }

    /// <inheritdoc/>
    public bool TryRepeat(int stream, Timestamp time, byte sequence, PacketPrint print, ReadOnlySpan<byte> slots)
    {
        // START code and flags are those of the frame before.
        ref Track track = ref _tracks[stream];
        if (track.IsFollowed)
        {
            Take(ref track, time, slots);
        }

        return true;
    }

    private static void Take(ref Track track, Timestamp time, ReadOnlySpan<byte> slots)
    {
        long second = Math.DivRem(time.UnixNanoseconds, Second).Quotient;
        int place = Place(second);
        if (track.At![place] == second)
        {
            return;
        }

        track.At[place] = second;
        track.Counts![place] = Math.Min(slots.Length, MostSlots);
        slots[..track.Counts[place]].CopyTo(track.Rows.AsSpan(place * MostSlots));
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
    }

    /// <summary>How slots of a stream went over the last 60 seconds.</summary>
    /// <param name="stream">Index in <see cref="StreamTable"/>.</param>
    /// <param name="address">The first slot, from 1.</param>
    /// <param name="count">How many.</param>
    /// <param name="now">The time; the last entry is of its second.</param>
    /// <returns>An entry a slot: 60 levels, the latest last; -1 while it was not sent. A level holds as long as its sender counts as present.</returns>
    public IReadOnlyList<IReadOnlyList<int>> Snapshot(int stream, int address, int count, Timestamp now)
    {
        int[][] slots = [.. Enumerable.Range(0, count).Select(_ => Enumerable.Repeat(-1, Seconds).ToArray())];
        if (stream >= _tracks.Count || _tracks[stream] is not { Rows: byte[] rows, At: long[] at, Counts: int[] counts } track)
        {
            return slots;
        }

        long last = Math.DivRem(now.UnixNanoseconds, Second).Quotient;
        for (int back = 0; back < Seconds; back++)
        {
            // The level of a second is that of its own frame, else of the one before that still holds.
            for (long second = last - back; second >= last - back - track.Hold && second > last - Seconds; second--)
            {
                int place = Place(second);
                if (at[place] != second)
                {
                    continue;
                }

                for (int slot = 0; slot < count && address + slot <= counts[place]; slot++)
                {
                    slots[slot][Seconds - 1 - back] = rows[(place * MostSlots) + address - 1 + slot];
                }

                break;
            }
        }

        return slots;
    }

    private static int Place(long second) => (int)(((second % Seconds) + Seconds) % Seconds);

    private struct Track
    {
        public byte[]? Rows;
        public long[]? At;
        public int[]? Counts;
        public long Hold;

        /// <summary>Whether the last frame of the stream was one of levels.</summary>
        public bool IsFollowed;
    }
}
