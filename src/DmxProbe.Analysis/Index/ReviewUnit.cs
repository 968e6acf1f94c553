using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Explain;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Universes;
using DmxProbe.Fixtures.Charts;
using DmxProbe.Fixtures.Patch;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>
/// One unit of a recording at any moment: its slots are looked up once over the whole recording, each moment then follows
/// from them as from the frames themselves. For one thread at a time.
/// </summary>
public sealed class ReviewUnit
{
    private const long Second = 1_000_000_000;

    // Enough to know since when everything has meant what it means; a slot that stands still longer than that is rare and old.
    private const int MostReplayed = 20_000;
    private const int MostJudged = 200_000;
    private readonly ReviewIndex _index;
    private IReadOnlyList<Timestamp>? _looks;
    private readonly PatchUnit _unit;
    private readonly ChartMode _mode;
    private readonly UniverseId _universe;
    private readonly List<(ReviewStream Stream, List<(Timestamp Time, int Slot, int Level)> Changes)> _streams = [];

    /// <summary>Looks the unit up.</summary>
    /// <param name="index">The recording.</param>
    /// <param name="unit">The unit.</param>
    /// <param name="mode">Its mode.</param>
    /// <param name="universe">Its universe on the wire.</param>
    public ReviewUnit(ReviewIndex index, PatchUnit unit, ChartMode mode, UniverseId universe)
    {
        ArgumentNullException.ThrowIfNull(index);
        ArgumentNullException.ThrowIfNull(unit);
        ArgumentNullException.ThrowIfNull(mode);
        (_index, _unit, _mode, _universe) = (index, unit, mode, universe);
        foreach (ReviewStream stream in index.Streams.Where(stream => stream.Universe == universe))
        {
            _streams.Add((stream, []));
        }

        if (index.First is not Timestamp first || index.Last is not Timestamp last)
        {
            return;
        }

        for (int slot = 0; slot < mode.Footprint && unit.Address + slot <= 512; slot++)
        {
            foreach (SlotSeries series in index.History(universe, unit.Address + slot, first, last))
            {
                _streams.Find(each => each.Stream.Sender.Index == series.Sender.Index).Changes?.AddRange(series.Changes.Select(change => (change.Time, slot, change.Level)));
            }
        }

        foreach ((_, List<(Timestamp Time, int Slot, int Level)> changes) in _streams)
        {
            changes.Sort((left, right) => left.Time.CompareTo(right.Time));
        }
    }

    /// <summary>The nearest moment at which one of its slots changed; when it was first heard is none.</summary>
    /// <param name="from">From where, not counted itself.</param>
    /// <param name="forward">Later; else earlier.</param>
    /// <returns>Null when there is none.</returns>
    public Timestamp? Change(Timestamp from, bool forward)
    {
        Timestamp? nearest = null;
        foreach ((ReviewStream stream, List<(Timestamp Time, int Slot, int Level)> changes) in _streams)
        {
            foreach ((Timestamp time, _, _) in changes)
            {
                if (time > stream.First && (forward ? time > from && !(time >= nearest) : time < from && !(time <= nearest)))
                {
                    nearest = time;
                }
            }
        }

        return nearest;
    }

    /// <summary>
    /// The moments at which what the unit should be doing became something else (dark, lit, flashing, not predictable), for
    /// any of its senders; by time. Worked out once.
    /// </summary>
    public IReadOnlyList<Timestamp> Looks() => _looks ??= FindLooks();

    /// <summary>Explains the unit at a moment.</summary>
    /// <param name="at">The moment.</param>
    /// <param name="numberOf">The number of a sender in <paramref name="obeyed"/>; -1 where it is not known there.</param>
    /// <param name="obeyed">Who was obeyed over time on the universe.</param>
    public Explanation Explain(Timestamp at, Func<SenderSummary, int> numberOf, IReadOnlyList<ObeyedSpan> obeyed)
    {
        ArgumentNullException.ThrowIfNull(numberOf);
        SlotTraceAnalyzer trace = new(new HashSet<UniverseId> { _universe }, _unit.Address, _mode);
        Dictionary<int, SenderSummary> senders = [];
        for (int number = 0; number < _streams.Count; number++)
        {
            (ReviewStream stream, List<(Timestamp Time, int Slot, int Level)> changes) = _streams[number];
            if (LastHeard(stream, at) is not Timestamp last)
            {
                continue;
            }

            int sender = numberOf(stream.Sender);
            senders[sender] = stream.Sender with { Index = sender };
            Replay(trace, number, sender, changes, at, last);
        }

        return UnitExplainer.Explain(_unit, _universe, trace, sender => senders[sender], obeyed, at);
    }

    /// <summary>How its slots went over the last 60 seconds, as <see cref="LevelLogAnalyzer"/> gives it live.</summary>
    /// <param name="sender">Who: the index as the recording counts it.</param>
    /// <param name="at">The moment.</param>
    public IReadOnlyList<IReadOnlyList<int>> History(int sender, Timestamp at)
    {
        int[][] slots = [.. Enumerable.Range(0, _mode.Footprint).Select(_ => Enumerable.Repeat(-1, LevelLogAnalyzer.Seconds).ToArray())];
        if (_streams.Find(each => each.Stream.Sender.Index == sender) is not ({ } stream, { } changes))
        {
            return slots;
        }

        long hold = ProtocolTimes.LossOf(_universe.Protocol).Nanoseconds;
        IReadOnlyList<Timestamp> times = _index.FrameTimes(stream, at - Duration.FromSeconds(LevelLogAnalyzer.Seconds) - TimeIndex.RunUp, at);
        long running = Math.DivRem(at.UnixNanoseconds, Second).Quotient;
        int[] levels = [.. Enumerable.Repeat(-1, _mode.Footprint)];
        int change = 0;
        int frame = 0;
        for (int column = 0; column < LevelLogAnalyzer.Seconds; column++)
        {
            // The end of each second: that of the running one is now.
            long end = Math.Min(at.UnixNanoseconds, ((running - LevelLogAnalyzer.Seconds + column + 2) * Second) - 1);
            for (; change < changes.Count && changes[change].Time.UnixNanoseconds <= end; change++)
            {
                levels[changes[change].Slot] = changes[change].Level;
            }

            while (frame < times.Count && times[frame].UnixNanoseconds <= end)
            {
                frame++;
            }

            bool present = frame > 0 && end - times[frame - 1].UnixNanoseconds <= hold;
            for (int slot = 0; present && slot < levels.Length; slot++)
            {
                slots[slot][column] = levels[slot];
            }
        }

        return slots;
    }

    private List<Timestamp> FindLooks()
    {
        List<Timestamp> looks = [];
        for (int number = 0; number < _streams.Count; number++)
        {
            (ReviewStream stream, List<(Timestamp Time, int Slot, int Level)> changes) = _streams[number];
            SlotTraceAnalyzer trace = new(new HashSet<UniverseId> { _universe }, _unit.Address, _mode);
            UnitState? before = null;
            Replay(trace, 0, 0, changes[..Math.Min(changes.Count, MostJudged)], Timestamp.MaxValue, null, time =>
            {
                UnitState? state = UnitExplainer.Explain(_unit, _universe, trace, _ => stream.Sender with { Index = 0 }, [], time).State;
                if (before is not null && state != before)
                {
                    looks.Add(time);
                }

                before = state;
            });
        }

        return [.. looks.Order()];
    }

    private Timestamp? LastHeard(ReviewStream stream, Timestamp at)
    {
        if (stream.First > at)
        {
            return null;
        }

        if (stream.Last <= at)
        {
            return stream.Last;
        }

        IReadOnlyList<Timestamp> lately = _index.FrameTimes(stream, at - TimeIndex.RunUp, at);
        return lately.Count > 0 ? lately[^1] : _index.FrameTimes(stream, stream.First, at) is { Count: > 0 } all ? all[^1] : null;
    }

    private void Replay(SlotTraceAnalyzer trace, int stream, int sender, List<(Timestamp Time, int Slot, int Level)> changes, Timestamp at, Timestamp? last, Action<Timestamp>? fed = null)
    {
        int[] levels = [.. Enumerable.Repeat(-1, _mode.Footprint)];
        byte[] frame = new byte[_unit.Address - 1 + _mode.Footprint];
        int until = changes.FindLastIndex(change => change.Time <= at) + 1;
        int from = fed is null ? Math.Max(0, until - MostReplayed) : 0;
        for (int place = 0; place < until; place++)
        {
            levels[changes[place].Slot] = changes[place].Level;
            bool more = place + 1 < until && changes[place + 1].Time == changes[place].Time;
            if (place >= from && !more)
            {
                Feed(changes[place].Time);
            }
        }

        if (until > 0 && last is Timestamp heard)
        {
            Feed(heard);
        }

        void Feed(Timestamp time)
        {
            int count = 0;
            while (count < levels.Length && levels[count] >= 0)
            {
                frame[_unit.Address - 1 + count] = (byte)levels[count];
                count++;
            }

            if (count > 0)
            {
                trace.OnFrame(new DmxFrame { Time = time, Record = 0, Universe = _universe, Stream = stream, Sender = sender, UniverseIndex = 0, Slots = frame.AsSpan(0, _unit.Address - 1 + count) });
                fed?.Invoke(time);
            }
        }
    }
}
