using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis.Units;

/// <summary>
/// What every slot of every stream did, and what the units on it were told. Work is done where slots change; the conditions
/// of a unit are looked at once in 200 ms at most, so what stands for less may be missed.
/// </summary>
/// <param name="unitsOn">The units that may be on a universe; asked once for each.</param>
public sealed class UnitActivityAnalyzer(Func<UniverseId, IReadOnlyList<WatchedUnit>> unitsOn) : IAnalyzer
{
    /// <summary>How often the conditions of a unit are looked at, at most.</summary>
    public static readonly Duration Every = Duration.FromMilliseconds(200);

    private const int MostSlots = 512;
    private const int ConditionCount = 11;
    private readonly PerIndex<Track> _tracks = new();
    private readonly Dictionary<UniverseId, UnitTable[]> _units = [];

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        const FrameFlags noLevels = FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged | FrameFlags.Preview;
        if (frame.StartCode != 0 || (frame.Flags & noLevels) != 0)
        {
            return;
        }

        ref Track track = ref _tracks[frame.Stream];
        ReadOnlySpan<byte> slots = frame.Slots;
        if (track.Levels is null)
        {
            track = Begin(in frame);
        }

        track.Last = frame.Time;
        if (slots.Length > track.SlotsSent)
        {
            slots[track.SlotsSent..].CopyTo(track.Levels.AsSpan(track.SlotsSent));
            Seed(track.Slots, slots, track.SlotsSent);
            track.SlotsSent = slots.Length;
            Array.Fill(track.Dirty, ~0UL);
        }

        if (!slots.SequenceEqual(track.Levels.AsSpan(0, slots.Length)))
        {
            Follow(ref track, slots, frame.Time);
        }

        if (track.HasDirty && track.Units.Length > 0 && frame.Time - track.Looked >= Every)
        {
            Look(ref track, frame.Time);
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

    /// <summary>Slots of a stream from a start address on, at most as many as asked for; fewer where fewer are sent.</summary>
    public IReadOnlyList<SlotActivity> Slots(int stream, int address, int footprint)
    {
        if (stream < 0 || stream >= _tracks.Count || _tracks[stream].Slots is not { } slots)
        {
            return [];
        }

        int end = Math.Min(_tracks[stream].SlotsSent, address - 1 + footprint);
        return address > end ? [] : slots[(address - 1)..end];
    }

    /// <summary>What all slots of a stream did.</summary>
    /// <param name="stream">The stream.</param>
    /// <param name="sender">Whose it is.</param>
    public StreamActivity Stream(int stream, SenderSummary sender) => new(
        sender,
        Slots(stream, 1, MostSlots),
        stream >= 0 && stream < _tracks.Count && _tracks[stream].Levels is not null ? _tracks[stream].Last - _tracks[stream].First : Duration.Zero);

    /// <summary>What a unit was told on a stream.</summary>
    /// <param name="watched">The unit.</param>
    /// <param name="stream">The stream of the sender that has the say; -1 when there is none.</param>
    /// <param name="universe">Its universe on the wire; null when not known.</param>
    /// <param name="sender">Whose stream it is.</param>
    public UnitActivity Snapshot(WatchedUnit watched, int stream, UniverseId? universe, SenderSummary? sender)
    {
        ArgumentNullException.ThrowIfNull(watched);
        if (stream < 0 || stream >= _tracks.Count || _tracks[stream].Levels is null)
        {
            return new UnitActivity { Watched = watched, Universe = universe };
        }

        ref Track track = ref _tracks[stream];
        Look(ref track, track.Last);
        int at = Array.FindIndex(track.Units, unit => ReferenceEquals(unit.Table.Watched, watched));
        return new UnitActivity
        {
            Watched = watched,
            Universe = universe,
            Sender = sender,
            SlotsSent = track.SlotsSent,
            Followed = track.Last - track.First,
            Slots = Slots(stream, watched.Unit.Address, watched.Footprint),
            Conditions = at < 0 ? [] : Spans(in track.Units[at], track.Last),
        };
    }

    private static List<ConditionSpan> Spans(in UnitTrack unit, Timestamp last)
    {
        List<ConditionSpan> spans = [];
        for (int bit = 0; bit < ConditionCount; bit++)
        {
            UnitConditions condition = (UnitConditions)(1 << bit);
            bool holds = (unit.Now & condition) != 0;
            if (!holds && unit.Totals[bit] == 0)
            {
                continue;
            }

            Duration piece = holds ? last - unit.Since[bit] : Duration.Zero;
            Duration total = Duration.FromNanoseconds(unit.Totals[bit]) + piece;
            Duration longest = Duration.FromNanoseconds(Math.Max(unit.Longest[bit], piece.Nanoseconds));
            spans.Add(new ConditionSpan(condition, total, longest, unit.First[bit], holds));
        }

        return spans;
    }

    private static void Seed(SlotActivity[] activities, ReadOnlySpan<byte> slots, int from)
    {
        for (int i = from; i < slots.Length; i++)
        {
            activities[i] = new SlotActivity { Value = slots[i], Least = slots[i], Greatest = slots[i], Before = slots[i] };
        }
    }

    // Eight slots at a time: most of a universe stands still even while it moves.
    private static void Follow(ref Track track, ReadOnlySpan<byte> slots, Timestamp time)
    {
        Span<byte> levels = track.Levels.AsSpan(0, slots.Length);
        int whole = slots.Length & ~7;
        for (int i = 0; i < whole; i += 8)
        {
            ulong difference = Unsafe.ReadUnaligned<ulong>(in slots[i]) ^ Unsafe.ReadUnaligned<ulong>(in levels[i]);
            while (difference != 0)
            {
                int octet = BitOperations.TrailingZeroCount(difference) >> 3;
                int index = i + (BitConverter.IsLittleEndian ? octet : 7 - octet);
                Change(ref track, index, slots[index], time);
                difference &= ~(0xFFUL << (octet * 8));
            }
        }

        for (int i = whole; i < slots.Length; i++)
        {
            if (slots[i] != levels[i])
            {
                Change(ref track, i, slots[i], time);
            }
        }

        slots.CopyTo(levels);
    }

    private static void Change(ref Track track, int index, byte value, Timestamp time)
    {
        ref SlotActivity slot = ref track.Slots[index];
        byte old = slot.Value;
        slot.Returns += value == slot.Before && slot.Changes > 0 && time - slot.LastChange <= Quick ? 1 : 0;
        slot.Jumps += Math.Abs(value - old) > 200 ? 1 : 0;
        slot.Before = old;
        slot.Value = value;
        slot.Least = Math.Min(slot.Least, value);
        slot.Greatest = Math.Max(slot.Greatest, value);
        slot.Changes = unchecked(slot.Changes + 1);
        slot.LastChange = time;
        track.Dirty[index >> 6] |= 1UL << (index & 63);
        track.HasDirty = true;
    }

    private static Duration Quick { get; } = Duration.FromMilliseconds(100);

    private static void Look(ref Track track, Timestamp time)
    {
        if (!track.HasDirty)
        {
            return;
        }

        foreach (ref UnitTrack unit in track.Units.AsSpan())
        {
            if (unit.Table.Conditions is { } table && Touches(track.Dirty, unit.Table.Watched))
            {
                int start = unit.Table.Watched.Unit.Address - 1;
                ReadOnlySpan<byte> slots = start >= track.SlotsSent ? [] : track.Levels.AsSpan(start, Math.Min(unit.Table.Watched.Footprint, track.SlotsSent - start));
                if (slots.Length > 0)
                {
                    Turn(ref unit, table.Judge(slots), time);
                }
            }
        }

        Array.Clear(track.Dirty);
        track.HasDirty = false;
        track.Looked = time;
    }

    private static bool Touches(ulong[] dirty, WatchedUnit watched)
    {
        int first = watched.Unit.Address - 1, last = Math.Min(first + watched.Footprint, MostSlots) - 1;
        for (int word = first >> 6; word <= last >> 6; word++)
        {
            ulong mask = ~0UL;
            mask &= word == first >> 6 ? ~0UL << (first & 63) : ~0UL;
            mask &= word == last >> 6 ? ~0UL >> (63 - (last & 63)) : ~0UL;
            if ((dirty[word] & mask) != 0)
            {
                return true;
            }
        }

        return false;
    }

    private static void Turn(ref UnitTrack unit, UnitConditions now, Timestamp time)
    {
        uint changed = (uint)(unit.Now ^ now);
        while (changed != 0)
        {
            int bit = BitOperations.TrailingZeroCount(changed);
            changed &= changed - 1;
            if (((int)now & (1 << bit)) != 0)
            {
                unit.Since[bit] = time;
                unit.First[bit] = unit.First[bit] == default ? time : unit.First[bit];
            }
            else
            {
                long piece = (time - unit.Since[bit]).Nanoseconds;
                unit.Totals[bit] += piece;
                unit.Longest[bit] = Math.Max(unit.Longest[bit], piece);
            }
        }

        unit.Now = now;
    }

    private Track Begin(in DmxFrame frame)
    {
        ref UnitTable[]? tables = ref CollectionsMarshal.GetValueRefOrAddDefault(_units, frame.Universe, out _);
        tables ??= [.. unitsOn(frame.Universe).Select(watched => new UnitTable(watched, watched.Mode is null ? null : new ConditionTable(watched.Mode)))];
        return new Track
        {
            Levels = new byte[MostSlots],
            Slots = new SlotActivity[MostSlots],
            Dirty = new ulong[MostSlots / 64],
            Units = [.. tables.Select(UnitTrack.Of)],
            HasDirty = true,
            First = frame.Time,
            Last = frame.Time,
            Looked = frame.Time - Every,
        };
    }

    private sealed record UnitTable(WatchedUnit Watched, ConditionTable? Conditions);

    private struct UnitTrack
    {
        public UnitTable Table;
        public UnitConditions Now;
        public Timestamp[] Since;
        public Timestamp[] First;
        public long[] Totals;
        public long[] Longest;

        public static UnitTrack Of(UnitTable table) => new()
        {
            Table = table,
            Since = new Timestamp[ConditionCount],
            First = new Timestamp[ConditionCount],
            Totals = new long[ConditionCount],
            Longest = new long[ConditionCount],
        };
    }

    private struct Track
    {
        public byte[]? Levels;
        public SlotActivity[] Slots;
        public ulong[] Dirty;
        public UnitTrack[] Units;
        public bool HasDirty;
        public int SlotsSent;
        public Timestamp First;
        public Timestamp Last;
        public Timestamp Looked;
    }
}
