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
    private const int MostOpen = 64;
    private readonly IPartedRecording _recording;
    private readonly Action<ReviewProgress> _progress;
    private readonly CancellationToken _cancellation;
    private readonly Dictionary<UniverseId, List<Lane>> _universes = [];
    private readonly LinkedList<(int Part, LevelFile File)> _open = [];
    private List<ReviewStream> _all = []; // by number, those without a level frame too

    private ReviewIndex(IPartedRecording recording, Action<ReviewProgress>? progress, CancellationToken cancellation)
    {
        _recording = recording;
        _progress = progress ?? (_ => { });
        _cancellation = cancellation;
    }

    /// <summary>What is on the recording: one entry a universe and sender, by universe, then by first appearance.</summary>
    public IReadOnlyList<ReviewStream> Streams { get; private set; } = [];

    /// <summary>Time of the earliest level frame; null where there is none.</summary>
    public Timestamp? First { get; private set; }

    /// <summary>Time of the latest level frame; null where there is none.</summary>
    public Timestamp? Last { get; private set; }

    /// <summary>Parts whose review file was made by this object, because there was none that was true.</summary>
    public int PartsMade { get; private set; }

    /// <summary>Opens a recording; makes the review files that are missing, which takes as long as reading those parts.</summary>
    /// <param name="recording">The recording; belongs to the result.</param>
    /// <param name="progress">Told before and after each part that has to be made.</param>
    /// <param name="cancellation">Stops the making.</param>
    /// <exception cref="IOException">There is no room for a review file.</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static ReviewIndex Open(IPartedRecording recording, Action<ReviewProgress>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(recording);
        ReviewIndex index = new(recording, progress, cancellation);
        try
        {
            index.Load();
            return index;
        }
        catch
        {
            index.Dispose();
            throw;
        }
    }

    /// <summary>
    /// The levels of a universe as they were at a time: for each sender the last frame at or before it, where that is less than
    /// 12 s old (<see cref="TimeIndex.RunUp"/>): longer than any protocol waits for a sender.
    /// </summary>
    /// <param name="universe">The universe.</param>
    /// <param name="at">The time; a frame of that very time counts.</param>
    /// <returns>An entry per sender, by first appearance; empty where nobody sent the universe then.</returns>
    public IReadOnlyList<ReviewLevels> LevelsAt(UniverseId universe, Timestamp at) => Ask(() => TryLevels(universe, at));

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
        return Ask(() => TryHistory(universe, slot - 1, from, to));
    }

    /// <summary>When level frames of a sender came, over a span.</summary>
    /// <param name="stream">One of <see cref="Streams"/>.</param>
    /// <param name="from">Start of the span.</param>
    /// <param name="to">End of the span; a frame of that very time counts.</param>
    /// <returns>The times, in the order of the recording.</returns>
    public IReadOnlyList<Timestamp> FrameTimes(ReviewStream stream, Timestamp from, Timestamp to)
    {
        ArgumentNullException.ThrowIfNull(stream);
        return Ask(() =>
        {
            List<Timestamp> found = [];
            foreach (Place place in Places(stream.Universe).Where(place => place.Stream == stream.Sender.Index && place.Entry.Earliest <= to && place.Entry.Latest >= from))
            {
                long[] times = Get(place, file => file.Times(place.Entry));
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
    public IReadOnlyList<(ReviewLevels Levels, long[] Changed)> LevelsWithChanges(UniverseId universe, Timestamp at, Duration span) => Ask(() =>
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
    public Timestamp? NearestChange(UniverseId universe, Timestamp from, bool forward) => Ask(() =>
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
    private IEnumerable<Run> Runs(UniverseId universe) => Places(universe)
        .Where(place => place.Entry.Frames > 0)
        .GroupBy(place => (place.Stream, _recording.Parts[place.Part].Lane))
        .Select(group => new Run(group.Key.Stream, [.. group]));

    // When a slot changed within a block; its first frame counts where it differs from the end of the block before.
    private IEnumerable<long> ChangeTimes(Run run, int place, int slot)
    {
        Place at = run.Places[place];
        List<(int Frame, int Level)> levels = Levels(at, slot);
        if (levels.Count == 1 && place == 0)
        {
            yield break;
        }

        long[] times = Get(at, file => file.Times(at.Entry));
        if (place > 0 && Levels(run.Places[place - 1], slot)[^1].Level != levels[0].Level)
        {
            yield return times[0];
        }

        foreach ((int frame, _) in levels.Skip(1))
        {
            yield return times[frame];
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach ((int _, LevelFile file) in _open)
        {
            file.Dispose();
        }

        _open.Clear();
        _recording.Dispose();
    }

    // A damaged file shows only when it is read: it is made again, and the question asked again.
    private T Ask<T>(Func<T> question)
    {
        for (int damaged = 0; ; damaged++)
        {
            try
            {
                return question();
            }
            catch (DamagedException damage) when (damaged < _recording.Parts.Count)
            {
                Forget(damage.Part);
                Make(damage.Part, damage.Part);
                Load();
            }
        }
    }

    private List<ReviewLevels> TryLevels(UniverseId universe, Timestamp at)
    {
        List<ReviewLevels> found = [];
        foreach (IGrouping<int, Place> sender in Places(universe).GroupBy(place => place.Stream).OrderBy(group => group.Key))
        {
            if (Latest(sender, at) is not { } latest)
            {
                continue;
            }

            (Place place, int frame, Timestamp time) = latest;
            byte[] slots = Get(place, file => file.Levels(place.Entry, frame, LevelFileEntry.At(place.Entry.Counts, frame)));
            if (slots.Length > 0)
            {
                bool ended = sender.Any(each => each.Entry.Ends.Any(end => end.Time > time && end.Time <= at));
                found.Add(new ReviewLevels(_all[place.Stream].Sender, slots, time, LevelFileEntry.At(place.Entry.Priorities, frame), ended));
            }
        }

        return found;
    }

    private List<SlotSeries> TryHistory(UniverseId universe, int slot, Timestamp from, Timestamp to)
    {
        List<SlotSeries> found = [];
        foreach (IGrouping<int, Place> sender in Places(universe).GroupBy(place => place.Stream).OrderBy(group => group.Key))
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
                    .GroupBy(place => _recording.Parts[place.Part].Lane)
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
                found.Add(new SlotSeries(_all[sender.Key].Sender, changes));
            }
        }

        return found;
    }

    // The sender's last frame not later than a time, if it is not too long ago; of lanes beside each other the later.
    private (Place Place, int Frame, Timestamp Time)? Latest(IEnumerable<Place> places, Timestamp at)
    {
        (Place Place, int Frame, Timestamp Time)? latest = null;
        foreach (IGrouping<int, Place> lane in places.Where(place => place.Entry.Frames > 0).GroupBy(place => _recording.Parts[place.Part].Lane))
        {
            Place? last = lane.LastOrDefault(place => place.Entry.Earliest <= at);
            if (last is null || last.Entry.Latest < at - TimeIndex.RunUp)
            {
                continue;
            }

            long[] times = Get(last, file => file.Times(last.Entry));
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
    private SlotLevelAt Since(IEnumerable<Place> sender, Place place, int slot, int frame)
    {
        (int since, int level) = Levels(place, slot).Last(change => change.Frame <= frame);
        Place at = place;
        if (since == 0)
        {
            int lane = _recording.Parts[place.Part].Lane;
            Place[] earlier = [.. sender.Where(each => each.Entry.Frames > 0 && _recording.Parts[each.Part].Lane == lane).TakeWhile(each => each != place)];
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

        return new SlotLevelAt(Timestamp.FromUnixNanoseconds(Get(at, file => file.Times(at.Entry))[since]), level);
    }

    private IEnumerable<SlotLevelAt> Within(Place place, int slot, Timestamp from, Timestamp to)
    {
        long[] times = Get(place, file => file.Times(place.Entry));
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
    private List<(int Frame, int Level)> Levels(Place place, int slot)
    {
        LevelFileEntry entry = place.Entry;
        if (slot >= entry.MostCount)
        {
            return [(0, -1)];
        }

        List<(int Frame, byte Level)> changes = Get(place, file => file.Changes(entry, slot));
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

    private IEnumerable<Place> Places(UniverseId universe) =>
        _universes.TryGetValue(universe, out List<Lane>? lanes) ? lanes.SelectMany(lane => lane.Places) : [];

    private T Get<T>(Place place, Func<LevelFile, T?> read)
        where T : class
    {
        LevelFile file = FileOf(place.Part) ?? throw new DamagedException(place.Part);
        return read(file) ?? throw new DamagedException(place.Part);
    }

    private LevelFile? FileOf(int part)
    {
        for (LinkedListNode<(int Part, LevelFile File)>? node = _open.First; node is not null; node = node.Next)
        {
            if (node.Value.Part == part)
            {
                _open.Remove(node);
                _open.AddFirst(node);
                return node.Value.File;
            }
        }

        if (_recording.OpenBeside(part) is not Stream stream || LevelFile.TryOpen(stream, _recording.Parts[part]) is not LevelFile file)
        {
            return null;
        }

        _open.AddFirst((part, file));
        if (_open.Count > MostOpen)
        {
            _open.Last!.Value.File.Dispose();
            _open.RemoveLast();
        }

        return file;
    }

    private void Forget(int part)
    {
        if (_open.FirstOrDefault(each => each.Part == part) is { File: not null } open)
        {
            open.File.Dispose();
            _open.Remove(open);
        }
    }

    private void Load()
    {
        for (int part = 0; part < _recording.Parts.Count; part++)
        {
            int last = part;
            while (last < _recording.Parts.Count && _recording.Parts[last].Lane == _recording.Parts[part].Lane && FileOf(last) is null)
            {
                last++;
            }

            if (last > part)
            {
                Make(part, last - 1);
                part = last - 1;
            }
        }

        _universes.Clear();
        Dictionary<(UniverseId, string), int> byKey = [];
        List<ReviewStream> streams = [];
        for (int part = 0; part < _recording.Parts.Count; part++)
        {
            LevelFile file = FileOf(part) ?? throw new IOException("a review file cannot be kept anywhere: free some space");
            Merge(part, file, byKey, streams);
        }

        _all = streams;
        Streams = [.. streams.Where(stream => stream.Frames > 0).OrderBy(stream => stream.Universe).ThenBy(stream => stream.Sender.Index)];
        First = Streams.Count > 0 ? Streams.Min(stream => stream.First) : null;
        Last = Streams.Count > 0 ? Streams.Max(stream => stream.Last) : null;
    }

    private void Merge(int part, LevelFile file, Dictionary<(UniverseId, string), int> byKey, List<ReviewStream> streams)
    {
        int[] numbers = new int[file.Streams.Count];
        for (int i = 0; i < numbers.Length; i++)
        {
            ReviewStream described = file.Streams[i];
            if (!byKey.TryGetValue(described.Key, out numbers[i]))
            {
                numbers[i] = streams.Count;
                byKey.Add(described.Key, streams.Count);
                streams.Add(described with { Sender = described.Sender with { Index = streams.Count } });
            }

            ReviewStream known = streams[numbers[i]];
            if (described.Sender.Name.Length > 0)
            {
                streams[numbers[i]] = known with { Sender = described.Sender with { Index = numbers[i] } };
            }
        }

        foreach ((int stream, LevelFileEntry entry) in file.Entries)
        {
            int number = numbers[stream];
            ReviewStream known = streams[number];
            if (!_universes.TryGetValue(known.Universe, out List<Lane>? lanes))
            {
                _universes[known.Universe] = lanes = [];
            }

            int lane = _recording.Parts[part].Lane;
            if (lanes.Find(each => each.Number == lane) is not Lane mine)
            {
                lanes.Add(mine = new Lane(lane, []));
            }

            mine.Places.Add(new Place(part, number, entry));
            streams[number] = entry.Frames == 0 ? known : known with
            {
                Frames = known.Frames + entry.Frames,
                First = entry.Earliest < known.First ? entry.Earliest : known.First,
                Last = entry.Latest > known.Last ? entry.Latest : known.Last,
            };
        }
    }

    private void Make(int first, int last)
    {
        int made = 0;
        _progress(new ReviewProgress(0, last - first + 1));
        new LevelFileBuilder(_recording, part =>
        {
            made++;
            PartsMade++;
            _progress(new ReviewProgress(made, last - first + 1));
        }).Make(first, last, _cancellation);
    }

    private sealed record Lane(int Number, List<Place> Places);

    private sealed record Run(int Stream, IReadOnlyList<Place> Places);

    private sealed record Place(int Part, int Stream, LevelFileEntry Entry);

    private sealed class DamagedException(int part) : Exception
    {
        public int Part { get; } = part;
    }
}
