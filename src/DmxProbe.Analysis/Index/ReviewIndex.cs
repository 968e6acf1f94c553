using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Index;

/// <summary>
/// Any slot of any universe at any time of a recording, and its history over any span, without reading the recording again.
/// It works from a review file beside each part (docs/formats.md), which it makes where there is none; one that is damaged,
/// or of another state of the part, is made again and never believed. For one thread at a time.
/// </summary>
public sealed class ReviewIndex : IDisposable
{
    private readonly ReviewParts _parts;

    private ReviewIndex(ReviewParts parts) => _parts = parts;

    /// <summary>What is on the recording: one entry a universe and sender, by universe, then by first appearance.</summary>
    public IReadOnlyList<ReviewStream> Streams => _parts.Streams;

    /// <summary>Time of the earliest level frame; null where there is none.</summary>
    public Timestamp? First => _parts.First;

    /// <summary>Time of the latest level frame; null where there is none.</summary>
    public Timestamp? Last => _parts.Last;

    /// <summary>Parts whose review file was made by this object, because there was none that was true.</summary>
    public int PartsMade => _parts.PartsMade;

    /// <summary>Why parts end early, as far as their review files were made by this object: told once.</summary>
    public IReadOnlyList<InputProblem> Problems => _parts.Problems;

    /// <summary>Opens a recording; makes the review files that are missing, which takes as long as reading those parts.</summary>
    /// <param name="recording">The recording; belongs to the result.</param>
    /// <param name="progress">Told before and after each part that has to be made.</param>
    /// <param name="cancellation">Stops the making.</param>
    /// <exception cref="IOException">There is no room for a review file.</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static ReviewIndex Open(IPartedRecording recording, Action<ReviewProgress>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(recording);
        ReviewParts parts = new(recording, progress, cancellation);
        try
        {
            parts.Load();
            return new ReviewIndex(parts);
        }
        catch
        {
            parts.Dispose();
            throw;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _parts.Dispose();

    /// <summary>
    /// The levels of a universe as they were at a time: for each sender the last frame at or before it, where that is less than
    /// 12 s old (<see cref="TimeIndex.RunUp"/>): longer than any protocol waits for a sender.
    /// </summary>
    /// <param name="universe">The universe.</param>
    /// <param name="at">The time; a frame of that very time counts.</param>
    /// <returns>An entry per sender, by first appearance; empty where nobody sent the universe then.</returns>
    public IReadOnlyList<ReviewLevels> LevelsAt(UniverseId universe, Timestamp at) => _parts.Ask(() => TryLevels(universe, at));

    /// <summary>One slot at a time, as <see cref="LevelsAt"/> gives it; reads that slot only.</summary>
    /// <param name="universe">The universe.</param>
    /// <param name="slot">Slot, 1 to 512.</param>
    /// <param name="at">The time.</param>
    /// <returns>Per sender what it sent last on the slot, and since when.</returns>
    public IReadOnlyList<SlotSeries> SlotAt(UniverseId universe, int slot, Timestamp at) => History(universe, slot, at, at);

    /// <summary>What was sent on a slot over a span.</summary>
    /// <param name="universe">The universe.</param>
    /// <param name="slot">Slot, 1 to 512.</param>
    /// <param name="from">Start of the span.</param>
    /// <param name="to">End of the span; a frame of that very time counts.</param>
    /// <returns>An entry per sender that sent the universe in the span or in the 12 s before.</returns>
    public IReadOnlyList<SlotSeries> History(UniverseId universe, int slot, Timestamp from, Timestamp to)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(slot, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(slot, LevelTrack.MostSlots);
        return _parts.Ask(() => TryHistory(universe, slot - 1, from, to));
    }

    /// <summary>When level frames of a sender came, over a span.</summary>
    /// <param name="stream">One of <see cref="Streams"/>.</param>
    /// <param name="from">Start of the span.</param>
    /// <param name="to">End of the span; a frame of that very time counts.</param>
    /// <returns>The times, in the order of the recording.</returns>
    public IReadOnlyList<Timestamp> FrameTimes(ReviewStream stream, Timestamp from, Timestamp to)
    {
        ArgumentNullException.ThrowIfNull(stream);
        return _parts.Ask(() =>
        {
            List<Timestamp> found = [];
            foreach (ReviewPlace place in _parts.Places(stream.Universe).Where(place => place.Stream == stream.Sender.Index && place.Entry.Earliest <= to && place.Entry.Latest >= from))
            {
                long[] times = _parts.Get(place, file => file.Times(place.Entry));
                found.AddRange(times.Select(Timestamp.FromUnixNanoseconds).Where(time => time >= from && time <= to));
            }

            return found;
        });
    }

    /// <summary>
    /// The levels of a universe at a time as <see cref="LevelsAt"/> gives them, and when each slot last changed, as far as that
    /// was within a span before. Reads no more than the blocks of that span.
    /// </summary>
    /// <param name="universe">The universe.</param>
    /// <param name="at">The time.</param>
    /// <param name="span">How far back.</param>
    /// <returns>An entry per sender; Unix nanoseconds of each slot's last change, <see cref="long.MinValue"/> where it is longer ago.</returns>
    public IReadOnlyList<(ReviewLevels Levels, long[] Changed)> LevelsWithChanges(UniverseId universe, Timestamp at, Duration span) => _parts.Ask(() =>
        TryLevels(universe, at).ConvertAll(levels =>
        {
            long[] changed = new long[levels.Slots.Length];
            Array.Fill(changed, long.MinValue);
            foreach (Run run in Runs(universe).Where(run => run.Stream == levels.Sender.Index))
            {
                foreach (int place in Enumerable.Range(0, run.Places.Count).Where(place => run.Places[place].Entry.Earliest <= at && run.Places[place].Entry.Latest > at - span))
                {
                    for (int slot = 0; slot < changed.Length; slot++)
                    {
                        foreach (long time in ChangeTimes(run, place, slot))
                        {
                            if (time <= at.UnixNanoseconds && time > (at - span).UnixNanoseconds && time > changed[slot])
                            {
                                changed[slot] = time;
                            }
                        }
                    }
                }
            }

            return (levels, changed);
        }));

    /// <summary>The nearest time at which a slot of a universe changed.</summary>
    /// <param name="universe">The universe.</param>
    /// <param name="from">From where, not counted itself.</param>
    /// <param name="forward">Later; else earlier.</param>
    /// <returns>Null where there is none.</returns>
    public Timestamp? NearestChange(UniverseId universe, Timestamp from, bool forward) => _parts.Ask(() =>
    {
        long start = from.UnixNanoseconds;
        long? nearest = null;
        foreach (Run run in Runs(universe))
        {
            IEnumerable<int> places = Enumerable.Range(0, run.Places.Count).Where(place => forward ? run.Places[place].Entry.Latest > from : run.Places[place].Entry.Earliest < from);
            foreach (int place in forward ? places : places.Reverse())
            {
                long? here = null;
                for (int slot = 0; slot < run.Places[place].Entry.MostCount; slot++)
                {
                    foreach (long time in ChangeTimes(run, place, slot))
                    {
                        bool nearer = forward ? time > start && !(time >= here) : time < start && !(time <= here);
                        here = nearer ? time : here;
                    }
                }

                if (here is not null)
                {
                    nearest = nearest is null || (forward ? here < nearest : here > nearest) ? here : nearest;
                    break;
                }
            }
        }

        return nearest is long found ? Timestamp.FromUnixNanoseconds(found) : (Timestamp?)null;
    });

    // What one sender left in one lane, in order.
    private IEnumerable<Run> Runs(UniverseId universe) => _parts.Places(universe)
        .Where(place => place.Entry.Frames > 0)
        .GroupBy(place => (place.Stream, _parts.LaneOf(place)))
        .Select(group => new Run(group.Key.Stream, [.. group]));

    // When a slot changed within a block; its first frame counts where it differs from the end of the block before.
    private IEnumerable<long> ChangeTimes(Run run, int place, int slot)
    {
        ReviewPlace at = run.Places[place];
        List<(int Frame, int Level)> levels = Levels(at, slot);
        if (levels.Count == 1 && place == 0)
        {
            yield break;
        }

        long[] times = _parts.Get(at, file => file.Times(at.Entry));
        if (place > 0 && Levels(run.Places[place - 1], slot)[^1].Level != levels[0].Level)
        {
            yield return times[0];
        }

        foreach ((int frame, _) in levels.Skip(1))
        {
            yield return times[frame];
        }
    }

    private List<ReviewLevels> TryLevels(UniverseId universe, Timestamp at)
    {
        List<ReviewLevels> found = [];
        foreach (IGrouping<int, ReviewPlace> sender in _parts.Places(universe).GroupBy(place => place.Stream).OrderBy(group => group.Key))
        {
            if (Latest(sender, at) is not { } latest)
            {
                continue;
            }

            (ReviewPlace place, int frame, Timestamp time) = latest;
            byte[] slots = _parts.Get(place, file => file.Levels(place.Entry, frame, LevelFileEntry.At(place.Entry.Counts, frame)));
            if (slots.Length > 0)
            {
                bool ended = sender.Any(each => each.Entry.Ends.Any(end => end.Time > time && end.Time <= at));
                found.Add(new ReviewLevels(_parts.All[place.Stream].Sender, slots, time, LevelFileEntry.At(place.Entry.Priorities, frame), ended));
            }
        }

        return found;
    }

    private List<SlotSeries> TryHistory(UniverseId universe, int slot, Timestamp from, Timestamp to)
    {
        List<SlotSeries> found = [];
        foreach (IGrouping<int, ReviewPlace> sender in _parts.Places(universe).GroupBy(place => place.Stream).OrderBy(group => group.Key))
        {
            List<SlotLevelAt> changes = [];
            if (Latest(sender, from) is { } latest)
            {
                changes.Add(Since(sender, latest.Place, slot, latest.Frame));
            }

            List<SlotLevelAt>[] lanes =
            [
                .. sender
                    .Where(place => place.Entry.Frames > 0 && place.Entry.Earliest <= to && place.Entry.Latest > from)
                    .GroupBy(place => _parts.LaneOf(place))
                    .Select(lane => lane.SelectMany(place => Within(place, slot, from, to)).ToList()),
            ];
            IEnumerable<SlotLevelAt> all = lanes.Length == 1 ? lanes[0] : lanes.SelectMany(lane => lane).OrderBy(change => change.Time);
            foreach (SlotLevelAt change in all)
            {
                if (changes.Count == 0 || changes[^1].Level != change.Level)
                {
                    changes.Add(change);
                }
            }

            if (changes.Count > 0)
            {
                found.Add(new SlotSeries(_parts.All[sender.Key].Sender, changes) { Slot = slot + 1 });
            }
        }

        return found;
    }

    // The sender's last frame not later than a time, if it is not too long ago; of lanes beside each other the later.
    private (ReviewPlace Place, int Frame, Timestamp Time)? Latest(IEnumerable<ReviewPlace> places, Timestamp at)
    {
        (ReviewPlace Place, int Frame, Timestamp Time)? latest = null;
        foreach (IGrouping<int, ReviewPlace> lane in places.Where(place => place.Entry.Frames > 0).GroupBy(place => _parts.LaneOf(place)))
        {
            ReviewPlace? last = lane.LastOrDefault(place => place.Entry.Earliest <= at);
            if (last is null || last.Entry.Latest < at - TimeIndex.RunUp)
            {
                continue;
            }

            long[] times = _parts.Get(last, file => file.Times(last.Entry));
            int frame = LastNotLater(times, at.UnixNanoseconds);
            Timestamp time = Timestamp.FromUnixNanoseconds(times[frame]);
            if (time >= at - TimeIndex.RunUp && (latest is null || time > latest.Value.Time))
            {
                latest = (last, frame, time);
            }
        }

        return latest;
    }

    // Times rise but where a clock was set.
    private static int LastNotLater(long[] times, long at)
    {
        int frame = times.Length - 1;
        while (frame > 0 && times[frame] > at)
        {
            frame--;
        }

        return frame;
    }

    // The level of a slot at a frame, and since when it has been that: through earlier blocks where it begins with its block.
    private SlotLevelAt Since(IEnumerable<ReviewPlace> sender, ReviewPlace place, int slot, int frame)
    {
        (int since, int level) = Levels(place, slot).Last(change => change.Frame <= frame);
        ReviewPlace at = place;
        if (since == 0)
        {
            int lane = _parts.LaneOf(place);
            ReviewPlace[] earlier = [.. sender.Where(each => each.Entry.Frames > 0 && _parts.LaneOf(each) == lane).TakeWhile(each => each != place)];
            for (int i = earlier.Length - 1; i >= 0 && since == 0; i--)
            {
                (int frameBefore, int levelBefore) = Levels(earlier[i], slot)[^1];
                if (levelBefore != level)
                {
                    break;
                }

                (at, since) = (earlier[i], frameBefore);
            }
        }

        return new SlotLevelAt(Timestamp.FromUnixNanoseconds(_parts.Get(at, file => file.Times(at.Entry))[since]), level);
    }

    private IEnumerable<SlotLevelAt> Within(ReviewPlace place, int slot, Timestamp from, Timestamp to)
    {
        long[] times = _parts.Get(place, file => file.Times(place.Entry));
        foreach ((int frame, int level) in Levels(place, slot))
        {
            Timestamp time = Timestamp.FromUnixNanoseconds(times[frame]);
            if (time > from && time <= to)
            {
                yield return new SlotLevelAt(time, level);
            }
        }
    }

    // The levels of a slot in a block, -1 where frames did not have it.
    private List<(int Frame, int Level)> Levels(ReviewPlace place, int slot)
    {
        LevelFileEntry entry = place.Entry;
        if (slot >= entry.MostCount)
        {
            return [(0, -1)];
        }

        List<(int Frame, byte Level)> changes = _parts.Get(place, file => file.Changes(entry, slot));
        if (entry.Counts.Count == 1)
        {
            return [.. changes.Select(change => (change.Frame, (int)change.Level))];
        }

        List<(int Frame, int Level)> levels = [];
        int count = 0;
        byte level = 0;
        int at = 0;
        foreach (int frame in changes.Select(change => change.Frame).Concat(entry.Counts.Select(each => each.Frame)).Distinct().Order())
        {
            while (at < changes.Count && changes[at].Frame <= frame)
            {
                level = changes[at++].Level;
            }

            count = LevelFileEntry.At(entry.Counts, frame);
            int now = slot < count ? level : -1;
            if (levels.Count == 0 || levels[^1].Level != now)
            {
                levels.Add((frame, now));
            }
        }

        return levels;
    }

    private sealed record Run(int Stream, IReadOnlyList<ReviewPlace> Places);
}
