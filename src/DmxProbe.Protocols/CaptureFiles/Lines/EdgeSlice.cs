using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using DmxProbe.Protocols.Line;

namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>
/// The edges of all channels over one slice of time, kept as the bytes of <see cref="EdgeRun"/> records. A slice covers
/// what comes after its start up to and including its end, so that no run starts with an edge of zero ticks.
/// </summary>
internal sealed class EdgeSlice
{
    /// <summary>Edges of one channel from which on a slice must be closed.</summary>
    public const int FullAt = 32_768;

    /// <summary>Most edges that may be added to a channel after <see cref="IsFull"/> was asked.</summary>
    public const int Room = 32_768;

    /// <summary>Runs from which on a slice must be closed: a channel that is unknown now and then makes many.</summary>
    public const int MostRuns = 4_096;

    /// <summary>Longest a slice may be where nothing happens, so that the fillers of a channel stay few.</summary>
    public const long LongestIdle = 1_000L * EdgeRun.NoEdge;

    // Besides the edges: fillers of an idle slice and headers of runs, each with what it takes to fill the time before it.
    private const int Header = EdgeRun.HeaderSize / sizeof(uint);
    private const int CellsPerChannel = FullAt + Room + 2_048;

    private const int Removed = -1;

    private readonly uint[] _cells;
    private readonly Channel[] _channels;
    private readonly List<SliceRun> _runs = [];
    private bool _sort;

    /// <summary>Makes an empty slice that starts at tick 0, every level unknown, with a gap before it.</summary>
    public EdgeSlice(int channels)
    {
        _cells = GC.AllocateUninitializedArray<uint>(channels * CellsPerChannel);
        _channels = new Channel[channels];
        for (int i = 0; i < channels; i++)
        {
            _channels[i] = new Channel
            {
                Base = i * CellsPerChannel,
                Run = i * CellsPerChannel,
                End = (i * CellsPerChannel) + Header,
                Level = LineLevel.Unknown,
                StartLevel = LineLevel.Unknown,
                Flags = EdgeRunFlags.Gap,
                Before = -1,
            };
        }
    }

    /// <summary>Tick where the slice starts.</summary>
    public long Start { get; private set; }

    /// <summary>The runs of the closed slice by time, then by channel.</summary>
    public List<SliceRun> Runs => _runs;

    /// <summary>The bytes of a run of the closed slice.</summary>
    public ReadOnlySpan<byte> Bytes(SliceRun run) => MemoryMarshal.AsBytes(_cells.AsSpan(run.Cell, run.Cells));

    /// <summary>Whether the slice must be closed before more is added.</summary>
    public bool IsFull()
    {
        if (_runs.Count >= MostRuns)
        {
            return true;
        }

        foreach (ref readonly Channel channel in _channels.AsSpan())
        {
            if (channel.End - channel.Base >= FullAt)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>The level of a channel now.</summary>
    public LineLevel Level(int channel) => _channels[channel].Level;

    /// <summary>Turns the level of a channel whose level is known; at least one tick after the edge before it.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void AddEdge(int channel, long tick)
    {
        ref Channel state = ref _channels[channel];
        long step = unchecked(tick - state.At);
        if (step >= EdgeRun.NoEdge)
        {
            step = Fill(ref state, step);
        }

        _cells[state.End] = unchecked((uint)step);
        state.End = unchecked(state.End + 1);
        state.At = tick;
        state.Level ^= LineLevel.High;
    }

    /// <summary>
    /// Turns several channels at once, without looking at bounds: <see cref="IsFull"/> keeps <see cref="Room"/> free, and the
    /// channels are those of <paramref name="channelOfLine"/>.
    /// </summary>
    /// <param name="lines">A bit for each line that turns.</param>
    /// <param name="channelOfLine">The channel of each line, at least as many as the highest bit; all within the slice.</param>
    /// <param name="tick">When; at least one tick and less than 2^32 - 1 after the edge before it on each.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void AddEdges(uint lines, ref int channelOfLine, long tick)
    {
        unchecked
        {
            ref Channel channels = ref MemoryMarshal.GetArrayDataReference(_channels);
            ref uint cells = ref MemoryMarshal.GetArrayDataReference(_cells);
            for (; lines != 0; lines &= lines - 1)
            {
                ref Channel state = ref Unsafe.Add(ref channels, Unsafe.Add(ref channelOfLine, BitOperations.TrailingZeroCount(lines)));
                Unsafe.Add(ref cells, state.End) = (uint)(tick - state.At);
                state.End++;
                state.At = tick;
                state.Level ^= LineLevel.High;
            }
        }
    }

    /// <summary>As <see cref="Set"/>, for the usual case: a level that is known, in the middle of a run.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public void SetKnown(int channel, LineLevel level, long tick)
    {
        ref Channel state = ref _channels[channel];
        long step = unchecked(tick - state.At);
        if ((state.Level ^ level) == LineLevel.High && step > 0 && step < EdgeRun.NoEdge)
        {
            // The level was the other of low and high, and the tick is after the start of the run and the edge before it.
            _cells[state.End] = unchecked((uint)step);
            state.End = unchecked(state.End + 1);
            state.At = tick;
            state.Level = level;
        }
        else
        {
            Set(channel, level, tick);
        }
    }

    /// <summary>
    /// Sets the level of a channel at a tick, not earlier than any before. What a channel was set to at one tick counts
    /// only as it is at the end of it.
    /// </summary>
    public void Set(int channel, LineLevel level, long tick)
    {
        ref Channel state = ref _channels[channel];
        if (state.Level == level)
        {
            return;
        }

        if (tick == state.RunStart)
        {
            StartAnew(channel, ref state, level, tick);
        }
        else if (state.Level == LineLevel.Unknown || level == LineLevel.Unknown)
        {
            CloseRun(channel, ref state, tick);
            OpenRun(ref state, level, tick);
        }
        else if (state.At == tick && state.End > state.Run + Header && _cells[state.End - 1] != EdgeRun.NoEdge)
        {
            // Back at the same tick: no edge at all.
            state.End--;
            state.At -= _cells[state.End];
            state.Level = level;
        }
        else
        {
            AddEdge(channel, tick);
        }
    }

    /// <summary>Closes the slice.</summary>
    /// <param name="tick">Its end, not before any edge.</param>
    /// <param name="last">Whether the recording ends here.</param>
    public void Close(long tick, bool last)
    {
        for (int i = 0; i < _channels.Length; i++)
        {
            ref Channel state = ref _channels[i];
            state.Flags |= last ? EdgeRunFlags.Last : 0;
            CloseRun(i, ref state, tick);
        }

        if (_sort)
        {
            _ = _runs.RemoveAll(static run => run.Channel == Removed);
            _runs.Sort(static (a, b) => a.StartTick != b.StartTick ? a.StartTick.CompareTo(b.StartTick) : a.Channel.CompareTo(b.Channel));
        }

        Start = tick;
    }

    /// <summary>Starts the next slice where the one before was closed; its runs are gone.</summary>
    public void Open()
    {
        _runs.Clear();
        _sort = false;
        foreach (ref Channel state in _channels.AsSpan())
        {
            state.End = state.Base;
            OpenRun(ref state, state.Level, Start);
        }
    }

    private long Fill(ref Channel state, long step)
    {
        while (step >= EdgeRun.NoEdge)
        {
            _cells[state.End++] = EdgeRun.NoEdge;
            step -= EdgeRun.NoEdge;
        }

        return step;
    }

    // A run over no time at all: only what comes after it counts. Where it follows a stretch of known level, the two are
    // joined again, so that the edge between them stays inside a run.
    private void StartAnew(int channel, ref Channel state, LineLevel level, long tick)
    {
        if (state.Before < 0 || level == LineLevel.Unknown)
        {
            state.StartLevel = level;
            state.Level = level;
            return;
        }

        SliceRun before = _runs[state.Before];
        _runs[state.Before] = before with { Channel = Removed };
        _ = EdgeRun.TryParse(Bytes(before), out EdgeRun run);
        state.At = before.EndTick - run.Tail;
        state.StartLevel = run.StartLevel;
        state.Flags = run.Flags;
        state.Level = state.LevelBefore;
        state.RunStart = before.StartTick;
        state.Run = before.Cell;
        state.End = before.Cell + before.Cells;
        state.Before = -1;
        Set(channel, level, tick);
    }

    private void CloseRun(int channel, ref Channel state, long tick)
    {
        uint tail = (uint)Fill(ref state, tick - state.At);
        EdgeRun.WriteHeader(
            MemoryMarshal.AsBytes(_cells.AsSpan(state.Run, Header)), state.StartLevel, state.Flags, tail, state.RunStart);
        state.Before = state.Level == LineLevel.Unknown ? -1 : _runs.Count;
        state.LevelBefore = state.Level;
        _runs.Add(new SliceRun(channel, state.Run, state.End - state.Run, state.RunStart, tick));
    }

    private void OpenRun(ref Channel state, LineLevel level, long tick)
    {
        _sort |= state.End > state.Base;
        if (state.End == state.Base)
        {
            state.Before = -1;
        }

        state.Run = state.End;
        state.End += Header;
        state.RunStart = tick;
        state.At = tick;
        state.Level = level;
        state.StartLevel = level;
        state.Flags = EdgeRunFlags.None;
    }

    private struct Channel
    {
        public int Base;
        public int Run; // cell where the open run's header goes
        public int End; // cell of the next step
        public long RunStart;
        public long At; // tick of the last edge or the end of the last filler
        public LineLevel Level;
        public LineLevel StartLevel;
        public EdgeRunFlags Flags;

        // The closed run just before the open one in this slice, where its level was known; -1 for none.
        public int Before;
        public LineLevel LevelBefore;
    }
}
