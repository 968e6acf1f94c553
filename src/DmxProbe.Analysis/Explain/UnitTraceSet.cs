using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Explain;

/// <summary>
/// Follows every unit of a sheet at once, so that any of them can be explained at any moment with what changed before.
/// A frame that repeats the one before it costs one comparison; a unit is brought up to date when it is asked for.
/// </summary>
public sealed class UnitTraceSet : IAnalyzer
{
    private const FrameFlags NoLevels = FrameFlags.Preview | FrameFlags.Terminated | FrameFlags.SlotsCut;
    private const int MostSlots = 512;
    private readonly Dictionary<UniverseId, List<SlotTraceAnalyzer>> _byUniverse = [];
    private readonly Dictionary<string, (TracedUnit Unit, SlotTraceAnalyzer Trace)> _byName = new(StringComparer.Ordinal);
    private readonly PerIndex<Last> _streams = new();

    /// <summary>Makes the set.</summary>
    /// <param name="units">The units, each name once.</param>
    public UnitTraceSet(IEnumerable<TracedUnit> units)
    {
        ArgumentNullException.ThrowIfNull(units);
        foreach (TracedUnit unit in units)
        {
            SlotTraceAnalyzer trace = new(unit.Universes, unit.Unit.Address, unit.Mode);
            if (!_byName.TryAdd(unit.Unit.Unit, (unit, trace)))
            {
                continue;
            }

            foreach (UniverseId universe in unit.Universes)
            {
                if (!_byUniverse.TryGetValue(universe, out List<SlotTraceAnalyzer>? traces))
                {
                    _byUniverse[universe] = traces = [];
                }

                traces.Add(trace);
            }
        }
    }

    /// <inheritdoc/>
    public bool TakesEveryRepeat => true;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        ref Last last = ref _streams[frame.Stream];
        last.Units = frame.StartCode == 0 && (frame.Flags & NoLevels) == 0 && _byUniverse.TryGetValue(frame.Universe, out List<SlotTraceAnalyzer>? traces) ? traces : null;
        if (last.Units is null)
        {
            return;
        }

        (last.Universe, last.Sender, last.UniverseIndex) = (frame.Universe, frame.Sender, frame.UniverseIndex);
        Take(ref last, frame.Stream, frame.Time, frame.Slots);
    }

    /// <inheritdoc/>
    public bool TryRepeat(int stream, Timestamp time, byte sequence, PacketPrint print, ReadOnlySpan<byte> slots)
    {
        // START code, flags, universe and sender are those of the frame before.
        ref Last last = ref _streams[stream];
        if (last.Units is not null)
        {
            Take(ref last, stream, time, slots);
        }

        return true;
    }

    private static void Take(ref Last last, int stream, Timestamp time, ReadOnlySpan<byte> slots)
    {
        last.Time = time;
        if (last.Slots is not null && slots.SequenceEqual(last.Slots.AsSpan(0, last.Count)))
        {
            return;
        }

        last.Slots ??= new byte[MostSlots];
        last.Count = Math.Min(slots.Length, MostSlots);
        slots[..last.Count].CopyTo(last.Slots);
        DmxFrame frame = last.Frame(stream);
        foreach (SlotTraceAnalyzer trace in last.Units!)
        {
            trace.OnFrame(in frame);
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

    /// <summary>Explains a unit at the time that the set has come to.</summary>
    /// <param name="unit">The unit's name.</param>
    /// <param name="universe">Its universe on the wire; null when it is not heard.</param>
    /// <param name="describe">Names a sender by its index.</param>
    /// <param name="obeyed">Who was obeyed over time on that universe.</param>
    /// <param name="at">The time; not before the last frame.</param>
    /// <returns>Null when the unit is not followed.</returns>
    public Explanation? Explain(string unit, UniverseId? universe, Func<int, SenderSummary> describe, IReadOnlyList<ObeyedSpan> obeyed, Timestamp at)
    {
        ArgumentNullException.ThrowIfNull(unit);
        if (!_byName.TryGetValue(unit, out (TracedUnit Unit, SlotTraceAnalyzer Trace) known))
        {
            return null;
        }

        for (int stream = 0; stream < _streams.Count; stream++)
        {
            Last last = _streams[stream];
            if (last.Slots is not null && known.Unit.Universes.Contains(last.Universe))
            {
                // The frames left out were equal to this one: it says only when the sender was heard last.
                known.Trace.OnFrame(last.Frame(stream));
            }
        }

        return UnitExplainer.Explain(known.Unit.Unit, universe, known.Trace, describe, obeyed, at);
    }

    private struct Last
    {
        public byte[]? Slots;
        public int Count;
        public Timestamp Time;
        public UniverseId Universe;
        public int Sender;
        public int UniverseIndex;

        /// <summary>Whose slots they are; null where the last frame of the stream was none of levels, or of no unit.</summary>
        public List<SlotTraceAnalyzer>? Units;

        public readonly DmxFrame Frame(int stream) => new()
        {
            Time = Time,
            Record = 0, // nobody asks for it
            Universe = Universe,
            Stream = stream,
            Sender = Sender,
            UniverseIndex = UniverseIndex,
            Slots = Slots.AsSpan(0, Count),
        };
    }
}
