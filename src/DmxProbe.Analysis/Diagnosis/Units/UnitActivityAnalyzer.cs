using System.Numerics;
using System.Runtime.InteropServices;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Diagnosis.Units;

/// <summary>
/// What every slot of every stream did, and what the units on it were told. The conditions of a unit are looked at once in
/// 200 ms at most, so what stands for less may be missed; on universes of which nobody complains once a second.
/// </summary>
/// <param name="unitsOn">The units that may be on a universe; asked once for each.</param>
/// <param name="isClose">Whether a universe is looked at closely; null: all are.</param>
public sealed class UnitActivityAnalyzer(Func<UniverseId, IReadOnlyList<WatchedUnit>> unitsOn, Func<UniverseId, bool>? isClose = null) : IAnalyzer
{
    /// <summary>How often the conditions of a unit are looked at, at most.</summary>
    public static readonly Duration Every = Duration.FromMilliseconds(200);

    /// <summary>The same on universes that are not looked at closely.</summary>
    public static readonly Duration Seldom = Duration.FromSeconds(1);

    private const int MostSlots = 512;
    private const int ConditionCount = 11;
    private readonly PerIndex<Track> _tracks = new();
    private readonly Dictionary<UniverseId, UnitTable[]> _units = [];
    private readonly Dictionary<ChartMode, ConditionTable> _tables = new(ReferenceEqualityComparer.Instance);

    /// <inheritdoc/>
    public bool TakesEveryRepeat => true;

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        const FrameFlags noLevels = FrameFlags.Terminated | FrameFlags.SlotsCut | FrameFlags.Damaged | FrameFlags.Preview;
        ref Track track = ref _tracks[frame.Stream];
        track.IsFollowed = frame.StartCode == 0 && (frame.Flags & noLevels) == 0;
        if (!track.IsFollowed)
        {
            return;
        }

        if (track.Levels is null)
        {
            track = Begin(in frame);
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
        if (stream < 0 || stream >= _tracks.Count || _tracks[stream].Levels is not { } slots)
        {
            return [];
        }

        int end = Math.Min(slots.SlotsSent, address - 1 + footprint);
        return address > end ? [] : slots.Snapshot(address - 1, end - address + 1);
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
            SlotsSent = track.Levels!.SlotsSent,
            Followed = track.Last - track.First,
            Slots = Slots(stream, watched.Unit.Address, watched.Footprint),
            Conditions = at < 0 ? [] : Spans(in track.Units[at], track.Last),
            First = track.First,
            Last = track.Last,
            LastChange = at < 0 ? null : track.Units[at].LastChange,
        };
    }

    private static void Take(ref Track track, Timestamp time, ReadOnlySpan<byte> slots)
    {
        track.Last = time;
        track.HasDirty |= track.Levels!.Take(slots[..Math.Min(slots.Length, MostSlots)]);
        if (track.HasDirty && track.Units.Length > 0 && time - track.Looked >= track.Every)
        {
            Look(ref track, time);
        }
    }

    private static List<ConditionSpan> Spans(in UnitTrack unit, Timestamp last)
    {
        List<ConditionSpan> spans = [];
        for (int bit = 0; bit < ConditionCount; bit++)
        {
            UnitConditions condition = (UnitConditions)(1 << bit);
            bool holds = (unit.Now & condition) != 0;
            ref Held held = ref unit.Held[bit];
            if (!holds && held.Total == 0)
            {
                continue;
            }

            Duration piece = holds ? last - held.Since : Duration.Zero;
            Duration total = Duration.FromNanoseconds(held.Total) + piece;
            Duration longest = Duration.FromNanoseconds(Math.Max(held.Longest, piece.Nanoseconds));
            spans.Add(new ConditionSpan(condition, total, longest, held.First, holds));
        }

        return spans;
    }

    private static void Look(ref Track track, Timestamp time)
    {
        if (!track.HasDirty)
        {
            return;
        }

        ReadOnlySpan<byte> levels = track.Levels!.Levels;
        ReadOnlySpan<byte> seen = track.Seen.AsSpan(0, track.SeenLength);
        foreach (ref UnitTrack unit in track.Units.AsSpan())
        {
            if (unit.Start >= levels.Length)
            {
                continue;
            }

            ReadOnlySpan<byte> slots = levels[unit.Start..Math.Min(unit.End, levels.Length)];
            ReadOnlySpan<byte> before = seen[Math.Min(unit.Start, seen.Length)..Math.Min(unit.End, seen.Length)];
            if (slots.SequenceEqual(before))
            {
                continue;
            }

            unit.LastChange = before.Length > 0 ? time : null;
            if (unit.Conditions is { } table)
            {
                Turn(ref unit, table.Judge(slots), time);
            }
        }

        levels.CopyTo(track.Seen);
        track.SeenLength = levels.Length;
        track.HasDirty = false;
        track.Looked = time;
    }

    private static void Turn(ref UnitTrack unit, UnitConditions now, Timestamp time)
    {
        uint changed = (uint)(unit.Now ^ now);
        while (changed != 0)
        {
            int bit = BitOperations.TrailingZeroCount(changed);
            changed &= changed - 1;
            ref Held held = ref unit.Held[bit];
            if (((int)now & (1 << bit)) != 0)
            {
                held.Since = time;
                held.First = held.First == default ? time : held.First;
            }
            else
            {
                long piece = (time - held.Since).Nanoseconds;
                held.Total += piece;
                held.Longest = Math.Max(held.Longest, piece);
            }
        }

        unit.Now = now;
    }

    private Track Begin(in DmxFrame frame)
    {
        ref UnitTable[]? tables = ref CollectionsMarshal.GetValueRefOrAddDefault(_units, frame.Universe, out _);
        tables ??= [.. unitsOn(frame.Universe).Select(watched => new UnitTable(watched, TableOf(watched.Mode)))];
        return new Track
        {
            Levels = new SlotTrack(),
            Units = [.. tables.Select(UnitTrack.Of)],
            Seen = new byte[MostSlots],
            IsFollowed = true,
            HasDirty = true,
            First = frame.Time,
            Last = frame.Time,
            Looked = frame.Time - Seldom,
            Every = isClose is null || isClose(frame.Universe) ? Every : Seldom,
        };
    }

    // Many units share a mode: one table serves them all.
    private ConditionTable? TableOf(ChartMode? mode)
    {
        if (mode is null)
        {
            return null;
        }

        ref ConditionTable? table = ref CollectionsMarshal.GetValueRefOrAddDefault(_tables, mode, out _);
        return table ??= new ConditionTable(mode);
    }

    private sealed record UnitTable(WatchedUnit Watched, ConditionTable? Conditions);

    private struct UnitTrack
    {
        public UnitTable Table;
        public UnitConditions Now;
        public Held[] Held;
        public ConditionTable? Conditions;

        /// <summary>Its slots, from 0; the end is the first that is not its own. At hand, because they are wanted in every look.</summary>
        public int Start;
        public int End;
        public Timestamp? LastChange;

        public static UnitTrack Of(UnitTable table) => new()
        {
            Table = table,
            Held = new Held[ConditionCount],
            Conditions = table.Conditions,
            Start = table.Watched.Unit.Address - 1,
            End = table.Watched.Unit.Address - 1 + table.Watched.Footprint,
        };
    }

    /// <summary>How long one condition of a unit held; nanoseconds.</summary>
    private struct Held
    {
        public Timestamp Since;
        public Timestamp First;
        public long Total;
        public long Longest;
    }

    private struct Track
    {
        public SlotTrack? Levels;
        public UnitTrack[] Units;

        /// <summary>The levels when the units were last looked at.</summary>
        public byte[] Seen;
        public int SeenLength;
        public bool HasDirty;

        /// <summary>Whether the last frame of the stream was one of levels.</summary>
        public bool IsFollowed;
        public Timestamp First;
        public Timestamp Last;
        public Timestamp Looked;
        public Duration Every;
    }
}
