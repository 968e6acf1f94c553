using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Explain;

/// <summary>
/// Follows the slots of one unit on the universes it may be on, for each sender: value, last change, and since when the
/// value has meant what it means. START code 0 only; preview, terminated and cut frames are left out. A few hundred octets
/// for each sender of those universes.
/// </summary>
public sealed class SlotTraceAnalyzer : IAnalyzer
{
    private readonly IReadOnlySet<UniverseId> _universes;
    private readonly int _address;
    private readonly int _footprint;
    private readonly ushort[][] _meanings;

    /// <summary>Indices of the slots whose meaning other slots decide too.</summary>
    private readonly int[] _dependent;
    private readonly PerIndex<Track> _tracks = new();

    /// <summary>Makes the analyzer.</summary>
    /// <param name="universes">The universes the unit may be on.</param>
    /// <param name="address">Its start address, 1 to 512.</param>
    /// <param name="mode">Its mode.</param>
    public SlotTraceAnalyzer(IReadOnlySet<UniverseId> universes, int address, ChartMode mode)
    {
        ArgumentNullException.ThrowIfNull(universes);
        ArgumentNullException.ThrowIfNull(mode);
        _universes = universes;
        _address = address;
        Mode = mode;
        _footprint = mode.Footprint;
        _dependent = [.. mode.Slots.Where(slot => slot.Exact.Count > 0 && slot.Slot <= _footprint).Select(slot => slot.Slot - 1)];
        _meanings = [.. Enumerable.Range(1, _footprint).Select(slot => Meanings(_dependent.Contains(slot - 1) ? null : mode.Find(slot)))];
    }

    /// <summary>The mode.</summary>
    public ChartMode Mode { get; }

    /// <summary>Asked at the first frame: frames after this time are left out; null for none.</summary>
    public Func<Timestamp?>? Until { get; init; }

    /// <summary>Streams followed.</summary>
    public int StreamCount => _tracks.Count;

    private Timestamp? _until;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        _until ??= Until?.Invoke() ?? Timestamp.MaxValue;
        if (frame.StartCode != 0 || frame.Time > _until || (frame.Flags & (FrameFlags.Preview | FrameFlags.Terminated | FrameFlags.SlotsCut)) != 0 || !_universes.Contains(frame.Universe))
        {
            return;
        }

        ref Track track = ref _tracks[frame.Stream];
        ReadOnlySpan<byte> slots = frame.Slots.Length < _address ? [] : frame.Slots[(_address - 1)..Math.Min(frame.Slots.Length, _address - 1 + _footprint)];
        if (track.Slots is null)
        {
            track = new Track { Slots = new Slot[_footprint], Universe = frame.Universe, Sender = frame.Sender, First = frame.Time };
            Array.Fill(track.Slots, new Slot { Value = -1, Previous = -1 });
        }

        track.Last = frame.Time;
        for (int i = 0; i < slots.Length; i++)
        {
            ref Slot slot = ref track.Slots[i];
            if (slot.Value == slots[i])
            {
                continue;
            }

            if (slot.Value < 0)
            {
                slot.Value = slots[i];
                continue;
            }

            bool same = _meanings[i][slot.Value] == _meanings[i][slots[i]];
            slot.Previous = slot.Value;
            slot.Value = slots[i];
            slot.Changed = frame.Time;
            slot.MeaningSince = same ? slot.MeaningSince : frame.Time;
            slot.Changes++;
        }

        if (_dependent.Length > 0)
        {
            FollowDependent(track.Slots, slots, frame.Time);
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        // Only levels are followed.
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        // Levels hold until they change.
    }

    /// <summary>The slots as a stream last sent them; null when the stream sent none of the universes.</summary>
    public (UniverseId Universe, int Sender, Timestamp First, Timestamp Last, IReadOnlyList<SlotState> Slots)? Snapshot(int stream)
    {
        if (stream >= _tracks.Count || _tracks[stream].Slots is not { } slots)
        {
            return null;
        }

        Track track = _tracks[stream];
        byte[] values = [.. slots.Select(slot => (byte)Math.Max(slot.Value, 0))];
        return (track.Universe, track.Sender, track.First, track.Last, [.. slots.Select((slot, index) => State(slot, index, values))]);
    }

    /// <summary>A master or a low byte may change what a slot means while its own value stays.</summary>
    private void FollowDependent(Slot[] states, ReadOnlySpan<byte> slots, Timestamp time)
    {
        foreach (int index in _dependent)
        {
            if (index >= slots.Length)
            {
                continue;
            }

            ref Slot slot = ref states[index];
            ChartRange? said = Mode.RangeAt(index + 1, slots);
            bool lit = said?.Effect == RangeEffect.Proportional && slots[index] > 0;
            if (slot.Followed && (said != slot.Said || lit != slot.Lit))
            {
                slot.MeaningSince = time;
            }

            (slot.Followed, slot.Said, slot.Lit) = (true, said, lit);
        }
    }

    private SlotState State(Slot slot, int index, byte[] values)
    {
        ChartSlot? chart = Mode.Find(index + 1);
        return new SlotState
        {
            Slot = index + 1,
            Address = _address + index,
            Chart = chart,
            Range = slot.Value < 0 ? null : Mode.RangeAt(index + 1, values),
            Value = slot.Value,
            Previous = slot.Previous,
            Changed = slot.Changed,
            MeaningSince = slot.MeaningSince,
            Changes = slot.Changes,
        };
    }

    /// <summary>A number for what each value means: its range, and within a ramp whether it is at zero.</summary>
    private static ushort[] Meanings(ChartSlot? chart)
    {
        ushort[] meanings = new ushort[256];
        for (int i = 0; i < (chart?.Ranges.Count ?? 0); i++)
        {
            ChartRange range = chart!.Ranges[i];
            for (int value = Math.Max(range.From, 0); value <= Math.Min(range.To, 255); value++)
            {
                bool lit = range.Effect == RangeEffect.Proportional && value > 0;
                meanings[value] = (ushort)(range.Effect == RangeEffect.Proportional ? (lit ? 2 : 1) : Math.Min(3 + i, ushort.MaxValue));
            }
        }

        return meanings;
    }

    private struct Slot
    {
        public int Value;
        public int Previous;
        public ChartRange? Said;
        public bool Followed;
        public bool Lit;
        public Timestamp? Changed;
        public Timestamp? MeaningSince;
        public long Changes;
    }

    private struct Track
    {
        public Slot[] Slots;
        public UniverseId Universe;
        public int Sender;
        public Timestamp First;
        public Timestamp Last;
    }
}
