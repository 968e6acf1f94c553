using DmxProbe.Analysis.Decoding;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Walk;

/// <summary>
/// Tells fader moves from cues and ticks functions off. A move lasts from its first change until the slot has rested for
/// <see cref="Rest"/>; what else was moving in that time makes it alone, a group, or part of a cue. START code 0 only.
/// </summary>
public sealed class WalkAnalyzer : IAnalyzer
{
    /// <summary>A fader that rests so long has been let go (common practice, no source).</summary>
    public static readonly Duration Rest = Duration.FromMilliseconds(700);

    /// <summary>Most moves kept.</summary>
    public const int MostMoves = 10_000;

    private const int MostSlots = 512;
    private const int MostCompared = 64;
    private readonly IReadOnlyList<WalkTarget> _targets;
    private readonly WalkMap _map;
    private readonly PerIndex<Stream> _streams = new();
    private readonly Dictionary<long, Run> _active = [];
    private readonly List<long> _ended = [];
    private readonly List<WalkMove> _moves = [];
    private long _notListed;
    private long _inCues;
    private Timestamp _earliestEnd = Timestamp.MaxValue;

    /// <summary>Makes the analyzer.</summary>
    /// <param name="targets">The units to be walked.</param>
    public WalkAnalyzer(IReadOnlyList<WalkTarget> targets)
    {
        ArgumentNullException.ThrowIfNull(targets);
        _targets = targets;
        _map = new WalkMap(targets);
    }

    /// <summary>Makes an analyzer that goes on from what was moved before, because the place of a unit became known only now.</summary>
    /// <param name="targets">The same units, in the same order.</param>
    /// <param name="before">What was moved up to now.</param>
    public WalkAnalyzer(IReadOnlyList<WalkTarget> targets, WalkResult before)
        : this(targets)
    {
        ArgumentNullException.ThrowIfNull(before);
        if (before.Functions.Count != _map.Functions.Count)
        {
            throw new ArgumentException("expected the same units as before", nameof(targets));
        }

        for (int index = 0; index < before.Functions.Count; index++)
        {
            WalkFunction from = before.Functions[index];
            _map.Functions[index] = _map.Functions[index] with
            {
                Alone = from.Alone,
                Together = from.Together,
                InCue = from.InCue,
                Lowest = from.Lowest,
                Highest = from.Highest,
                VisitedRanges = [.. from.VisitedRanges],
            };
        }

        _moves.AddRange(before.Moves);
        (_notListed, _inCues) = (before.MovesNotListed, before.MovesInCues);
    }

    /// <inheritdoc/>
    public void OnFrame(in DmxFrame frame)
    {
        if (frame.StartCode != 0 || (frame.Flags & (FrameFlags.Preview | FrameFlags.Terminated | FrameFlags.SlotsCut)) != 0)
        {
            return;
        }

        EndBefore(frame.Time);
        ref Stream stream = ref _streams[frame.Stream];
        ReadOnlySpan<byte> slots = frame.Slots;
        if (stream.Levels is null)
        {
            stream = new Stream { Levels = new byte[MostSlots], Owners = _map.Of(frame.Universe), Count = slots.Length };
            slots.CopyTo(stream.Levels);
            return;
        }

        // Slots that come in for the first time are no move.
        int known = Math.Min(slots.Length, stream.Count);
        bool moved = false;
        for (int at = 0; at < known; at++)
        {
            at += slots[at..known].CommonPrefixLength(stream.Levels.AsSpan(at, known - at));
            if (at < known)
            {
                Change(in frame, stream.Owners, at, stream.Levels[at], slots[at]);
                stream.Levels[at] = slots[at];
                moved = true;
            }
        }

        if (slots.Length > stream.Count)
        {
            slots[stream.Count..].CopyTo(stream.Levels.AsSpan(stream.Count));
            stream.Count = slots.Length;
        }

        if (moved)
        {
            Crowd(frame.Time);
        }
    }

    /// <inheritdoc/>
    public void OnEvent(in LinkEvent linkEvent)
    {
        // Only levels move anything.
    }

    /// <inheritdoc/>
    public void OnTime(Timestamp now)
    {
        // A move ends at its own last change, found when the next frame comes or the result is asked for.
    }

    /// <summary>What was moved so far; moves still under way count as ended.</summary>
    public WalkResult Snapshot()
    {
        WalkFunction[] functions = [.. _map.Functions.Select(function => function with { VisitedRanges = [.. function.VisitedRanges] })];
        List<WalkMove> moves = [.. _moves];
        long notListed = _notListed, inCues = _inCues;
        foreach (Run run in _active.Values.OrderBy(run => run.From))
        {
            Tick(functions, run);
            _ = run.Kind == MoveKind.Cue && run.Functions.Length > 0 ? inCues++ : Keep(moves, run, ref notListed);
        }

        return new WalkResult(_targets, functions, [.. moves.OrderBy(move => move.From).ThenBy(move => move.Universe).ThenBy(move => move.Slot)], notListed, inCues);
    }

    private static long Keep(List<WalkMove> moves, Run run, ref long notListed)
    {
        if (moves.Count >= MostMoves)
        {
            return notListed++;
        }

        moves.Add(new WalkMove(run.From, run.To, run.Universe, run.Sender, run.Slot, run.Functions, run.First, run.Last, run.Lowest, run.Highest, run.Kind, run.Others));
        return 0;
    }

    private static void Tick(IReadOnlyList<WalkFunction> functions, Run run)
    {
        foreach (int index in run.Functions)
        {
            WalkFunction function = functions[index];
            _ = run.Kind switch
            {
                MoveKind.Alone => function.Alone++,
                MoveKind.Together => function.Together++,
                _ => function.InCue++,
            };
            if (run.Kind == MoveKind.Cue)
            {
                continue;
            }

            function.Lowest = Math.Min(function.Lowest, run.Lowest);
            function.Highest = Math.Max(function.Highest, run.Highest);
            for (int range = 0; range < function.VisitedRanges.Length; range++)
            {
                function.VisitedRanges[range] |= run.Visits(function.Chart!.Ranges[range]);
            }
        }
    }

    private void Change(in DmxFrame frame, int[][]? owners, int slot, byte before, byte after)
    {
        int[] functions = owners?[slot] ?? [];

        // High and low byte of one function are one move; a slot of no unit is a move of its own.
        long key = functions.Length > 0 ? ((long)frame.Stream << 32) | (uint)functions[0] : ((long)frame.Stream << 32) | 0x8000_0000L | (uint)slot;
        bool high = functions.Length == 0 || _targets[_map.Functions[functions[0]].Target].Unit.Address + _map.Functions[functions[0]].Slot - 2 == slot;
        if (!_active.TryGetValue(key, out Run? run))
        {
            _active[key] = run = new Run { From = frame.Time, Universe = frame.Universe, Sender = frame.Sender, Slot = slot + 1, Functions = functions, First = before, Last = before, Lowest = before, Highest = before };
            run.Visit(before);
        }

        run.To = frame.Time;
        _earliestEnd = _earliestEnd < frame.Time + Rest ? _earliestEnd : frame.Time + Rest;
        if (high || run.Slot == slot + 1)
        {
            run.Last = after;
            run.Lowest = Math.Min(run.Lowest, after);
            run.Highest = Math.Max(run.Highest, after);
            run.Visit(after);
        }
    }

    /// <summary>
    /// Marks what moves at the same time. Two moves overlap when each changed after the other began: a fader let go just
    /// before the next one is taken does not.
    /// </summary>
    private void Crowd(Timestamp now)
    {
        if (_active.Count == 1)
        {
            return;
        }

        if (_active.Count > MostCompared)
        {
            foreach (Run run in _active.Values.Where(run => run.To == now))
            {
                run.Join(MoveKind.Cue, _active.Count - 1);
            }

            return;
        }

        foreach (Run run in _active.Values.Where(run => run.To == now))
        {
            Run[] others = [.. _active.Values.Where(other => other != run && other.To >= run.From)];
            MoveKind kind = Array.TrueForAll(others, other => SameFunction(run, other)) ? MoveKind.Together : MoveKind.Cue;
            if (others.Length > 0)
            {
                run.Join(kind, others.Length);
                Array.ForEach(others, other => other.Join(kind, others.Length));
            }
        }
    }

    private bool SameFunction(Run one, Run other) =>
        one.Functions.Length > 0 && other.Functions.Length > 0 && _map.Functions[one.Functions[0]].Name == _map.Functions[other.Functions[0]].Name
        && _map.Functions[one.Functions[0]].Target != _map.Functions[other.Functions[0]].Target;

    private void EndBefore(Timestamp now)
    {
        if (now <= _earliestEnd)
        {
            return;
        }

        _earliestEnd = Timestamp.MaxValue;
        foreach ((long key, Run run) in _active)
        {
            if (now - run.To > Rest)
            {
                _ended.Add(key);
            }
            else if (run.To + Rest < _earliestEnd)
            {
                _earliestEnd = run.To + Rest;
            }
        }

        foreach (Run run in _ended.Select(key => _active[key]).OrderBy(run => run.From))
        {
            Tick(_map.Functions, run);
            _ = run.Kind == MoveKind.Cue && run.Functions.Length > 0 ? _inCues++ : Keep(_moves, run, ref _notListed);
        }

        foreach (long key in _ended)
        {
            _active.Remove(key);
        }

        _ended.Clear();
    }

    private struct Stream
    {
        public byte[]? Levels;
        public int[][]? Owners;
        public int Count;
    }

    private sealed class Run
    {
        private readonly ulong[] _seen = new ulong[4];

        public required Timestamp From { get; init; }

        public Timestamp To { get; set; }

        public required UniverseId Universe { get; init; }

        public required int Sender { get; init; }

        public required int Slot { get; init; }

        public required int[] Functions { get; init; }

        public required int First { get; init; }

        public int Last { get; set; }

        public int Lowest { get; set; }

        public int Highest { get; set; }

        public MoveKind Kind { get; private set; }

        public int Others { get; private set; }

        public void Join(MoveKind kind, int others)
        {
            Kind = kind > Kind ? kind : Kind;
            Others = Math.Max(Others, others);
        }

        public void Visit(byte value) => _seen[value >> 6] |= 1UL << (value & 63);

        public bool Visits(ChartRange range)
        {
            for (int value = Math.Max(0, range.From); value <= Math.Min(255, range.To); value++)
            {
                if ((_seen[value >> 6] & (1UL << (value & 63))) != 0)
                {
                    return true;
                }
            }

            return false;
        }
    }
}
