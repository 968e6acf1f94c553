using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Links;

/// <summary>Goes through the far frames once the clocks are laid over each other, and says of each what it shows.</summary>
internal sealed class LinkJudge
{
    private const int MostSlotsListed = 32;
    private const int MostSearched = 50_000;
    private const double AlwaysShare = 0.5;
    private const int FewestDetour = 4;
    private static readonly Duration LeastDetour = Duration.FromMilliseconds(250);
    private static readonly Duration LeastFreeze = Duration.FromMilliseconds(100);
    private static readonly Duration Slack = Duration.FromMilliseconds(50);
    private static readonly Duration Stale = Duration.FromSeconds(600);

    private readonly LinkSide _side;
    private readonly LineFrames _far;
    private readonly Duration _offset;
    private readonly Timestamp _farEnd;
    private readonly Timestamp _nearEnd;
    private readonly bool[] _mask;
    private readonly LinkContents _near;
    private readonly Dictionary<OutputChange, ulong> _hashes = [];
    private readonly Duration _interval;

    public LinkJudge(LinkSide side, LineFrames far, Duration offset, Timestamp farEnd)
    {
        _side = side;
        _far = far;
        _offset = offset;
        _farEnd = farEnd;
        _nearEnd = side.Streams.Max(stream => stream.Frames[^1].Time);
        _mask = Always();
        _near = new LinkContents(side.Changes, _mask.Contains(true) ? _mask : null, side.Slots);
        _interval = Interval();
        Passed = FindPassed();
        long[] differences = [.. Passed.Select(pair => pair.Difference).Order()];
        Usual = differences.Length == 0 ? _offset : Duration.FromNanoseconds(differences[differences.Length / 2]);
    }

    /// <summary>Changes that came out, with how much later they did.</summary>
    public List<(Timestamp Near, long Difference)> Passed { get; }

    /// <summary>Far time less near time of most changes.</summary>
    public Duration Usual { get; }

    private long Asked { get; set; }

    /// <summary>Judges.</summary>
    /// <param name="oneClock">Whether both taps have one clock.</param>
    /// <param name="drift">How much the far clock runs ahead; already taken out of the times.</param>
    /// <param name="others">What other senders of the near tap carried.</param>
    public LinkComparison Judge(bool oneClock, double drift, List<(string Who, LinkContents Contents)> others)
    {
        IntervalHistogram latency = new();
        long zero = oneClock || Passed.Count == 0 ? 0 : Passed.Min(pair => pair.Difference);
        foreach ((_, long difference) in Passed)
        {
            latency.Add(Duration.FromNanoseconds(Math.Max(0, difference - zero)));
        }

        Duration usual = Usual;
        Duration least = Duration.FromNanoseconds(Math.Max(LeastFreeze.Nanoseconds, 3 * _interval.Nanoseconds)) + (usual - _offset);
        List<LinkFreeze> freezes = [];
        List<LinkDetour> detours = [];
        int[] altered = new int[_side.Slots];
        long frames = 0;
        int searched = 0;
        (Timestamp From, int Frames, Dictionary<string, int> Who)? astray = null;
        (Timestamp Time, int Place)? shown = null; // the last frame that is of the near tap
        foreach ((Timestamp time, OutputChange carried) in _far.All)
        {
            Timestamp at = time - _offset;
            if (at + Slack < _near.Distinct[0].Time || at > _nearEnd + Slack)
            {
                continue;
            }

            frames++;
            ulong hash = HashOf(carried);
            int place = _near.Latest(hash, at + Slack);
            bool isOurs = place >= 0 && at - _near.EndOf(place) <= Stale;
            if (shown is { } before && (!isOurs || _near.Distinct[before.Place].Hash != hash))
            {
                Timestamp end = _near.EndOf(before.Place);
                if (end < Timestamp.MaxValue && at - end > least)
                {
                    Duration silent = time - before.Time;
                    Timestamp from = end + usual;
                    freezes.Add(new LinkFreeze(from, time, silent.Nanoseconds * 2 > (time - from).Nanoseconds));
                }
            }

            if (!isOurs && searched < MostSearched)
            {
                searched++;
                isOurs = IsAltered(carried, at, altered, out place);
            }

            if (isOurs)
            {
                Close(ref astray, time, detours);
                shown = (time, place);
                continue;
            }

            shown = null;
            astray ??= (time, 0, new Dictionary<string, int>(StringComparer.Ordinal));
            astray = astray.Value with { Frames = astray.Value.Frames + 1 };
            if (Find(others, carried, at) is string who)
            {
                astray.Value.Who[who] = astray.Value.Who.GetValueOrDefault(who) + 1;
            }
        }

        // Still frozen, or silent, when the far tap stopped listening.
        if (shown is { } last && _near.EndOf(last.Place) is Timestamp left && left < Timestamp.MaxValue && _farEnd - _offset <= _nearEnd && _farEnd - _offset - left > least)
        {
            freezes.Add(new LinkFreeze(left + usual, _farEnd, _farEnd - last.Time > least));
        }

        Close(ref astray, _far.Last, detours);
        CountOf[] always = [.. Enumerable.Range(0, _side.Slots).Where(slot => _mask[slot]).Select(slot => new CountOf(slot + 1, frames))];
        CountOf[] differing = [.. always, .. altered.Select((count, slot) => new CountOf(slot + 1, count)).Where(each => each.Count > 0).OrderByDescending(each => each.Count).ThenBy(each => each.Value)];
        return new LinkComparison
        {
            Far = default,
            FarSender = _side.Streams[0].Sender,
            Near = _side.Universe,
            NearSender = _side.Sender,
            SameClock = oneClock,
            Offset = Passed.Count == 0 ? _offset : Duration.FromNanoseconds(Passed.Min(pair => pair.Difference)),
            ClockPpm = drift * 1e6,
            Latency = latency.Snapshot(),
            Passages = Passages(zero),
            Changes = Asked,
            ChangesPassed = Passed.Count,
            Frames = frames,
            MissingFrames = Missing(),
            Freezes = [.. freezes.Take(LinkComparison.MostListed)],
            FreezeCount = freezes.Count,
            LongestFreeze = freezes.Count == 0 ? null : freezes.MaxBy(freeze => freeze.Length),
            LeastFreeze = least,
            Detours = [.. detours.Take(LinkComparison.MostListed)],
            DifferingSlots = [.. differing.Take(MostSlotsListed)],
            DifferingSlotCount = differing.Length,
        };
    }

    // The greatest of each group, so that no late change is lost between two that are kept.
    private LinkPassage[] Passages(long zero) =>
    [
        .. Passed.Chunk(Math.Max(1, (Passed.Count + LinkComparison.MostPassages - 1) / LinkComparison.MostPassages))
            .Select(group => group.MaxBy(pair => pair.Difference))
            .Select(pair => new LinkPassage(pair.Near + Duration.FromNanoseconds(pair.Difference), Duration.FromNanoseconds(Math.Max(0, pair.Difference - zero)))),
    ];

    private static void Close(ref (Timestamp From, int Frames, Dictionary<string, int> Who)? astray, Timestamp to, List<LinkDetour> detours)
    {
        if (astray is { } found && found.Frames >= FewestDetour && to - found.From >= LeastDetour)
        {
            string who = found.Who.Count > 0 && found.Who.MaxBy(each => each.Value) is { } most && most.Value * 2 >= found.Frames ? most.Key : "";
            detours.Add(new LinkDetour(found.From, to, found.Frames, who));
        }

        astray = null;
    }

    // Equal to what another sender sent lately: levels that never change prove nothing unless they are lit.
    private string? Find(List<(string Who, LinkContents Contents)> others, OutputChange carried, Timestamp at)
    {
        if (!carried.Slots.AsSpan().ContainsAnyExcept((byte)0))
        {
            return null;
        }

        ulong hash = LinkContents.Hash(carried.Slots, null, _side.Slots);
        foreach ((string who, LinkContents contents) in others)
        {
            int place = contents.Latest(hash, at + Slack);
            if (place >= 0 && at - contents.EndOf(place) <= TapAlignment.Window)
            {
                return who;
            }
        }

        return null;
    }

    private ulong HashOf(OutputChange carried)
    {
        if (!_hashes.TryGetValue(carried, out ulong hash))
        {
            _hashes[carried] = hash = LinkContents.Hash(carried.Slots, _mask.Contains(true) ? _mask : null, _side.Slots);
        }

        return hash;
    }

    // A frame that is ours but for a few slots.
    private bool IsAltered(OutputChange carried, Timestamp at, int[] altered, out int place)
    {
        const int MostPart = 16;
        int most = Math.Max(2, _side.Slots / MostPart);
        int least = int.MaxValue;
        place = -1;
        foreach (int candidate in _near.In(at - TapAlignment.Window, at + Slack))
        {
            int count = 0;
            byte[] sent = _near.Slots(candidate);
            for (int slot = 0; slot < _side.Slots && count <= most; slot++)
            {
                count += sent[slot] != carried.Slots[slot] && !_mask[slot] ? 1 : 0;
            }

            if (count < least)
            {
                (least, place) = (count, candidate);
            }
        }

        if (least > most)
        {
            return false;
        }

        byte[] best = _near.Slots(place);
        for (int slot = 0; slot < _side.Slots; slot++)
        {
            altered[slot] += best[slot] != carried.Slots[slot] && !_mask[slot] ? 1 : 0;
        }

        return true;
    }

    // Slots that differ in at least half of the frames.
    private bool[] Always()
    {
        int[] differing = new int[_side.Slots];
        int held = HoldAtRest(differing);
        const int Fewest = 8;
        if (held < Fewest)
        {
            Array.Clear(differing);
            held = HoldAgainstTheNearest(differing);
        }

        bool[] mask = [.. differing.Select(count => held >= Fewest && count >= AlwaysShare * held)];
        return mask.Count(masked => masked) * 2 > mask.Length ? new bool[_side.Slots] : mask; // most of it: another show, not a fault of slots
    }

    // Frames held against a moment at which nothing moved, at either end: a near tap that lost frames only seems to rest.
    private int HoldAtRest(int[] differing)
    {
        int held = 0;
        int next = 0;
        foreach ((Timestamp time, OutputChange carried) in _far.All)
        {
            Timestamp at = time - _offset;
            while (next + 1 < _side.Changes.Count && _side.Changes[next + 1].Time <= at + Slack)
            {
                next++;
            }

            OutputChange sent = _side.Changes[next];
            bool isAtRest = sent.Time <= at - TapAlignment.Window && carried.Time <= time - TapAlignment.Window;
            if (isAtRest && at <= _nearEnd && held < MostSearched)
            {
                held++;
                Count(sent.Slots, carried.Slots, differing);
            }
        }

        return held;
    }

    // Where something always moves: against what is most like it of what stood about then.
    private int HoldAgainstTheNearest(int[] differing)
    {
        const int Samples = 400;
        LinkContents all = new(_side.Changes, null, _side.Slots);
        int held = 0;
        for (int i = 0; i < _far.All.Count; i += Math.Max(1, _far.All.Count / Samples))
        {
            (Timestamp time, OutputChange carried) = _far.All[i];
            Timestamp at = time - _offset;
            byte[]? best = all.In(at - TapAlignment.Window, at + Slack).Select(all.Slots).MinBy(sent => Differing(sent, carried.Slots));
            if (best is not null && at <= _nearEnd && Differing(best, carried.Slots) * 2 < _side.Slots)
            {
                held++;
                Count(best, carried.Slots, differing);
            }
        }

        return held;
    }

    private void Count(byte[] sent, byte[] carried, int[] differing)
    {
        for (int slot = 0; slot < _side.Slots; slot++)
        {
            differing[slot] += sent[slot] != carried[slot] ? 1 : 0;
        }
    }

    private int Differing(byte[] sent, byte[] carried)
    {
        int count = 0;
        for (int slot = 0; slot < _side.Slots; slot++)
        {
            count += sent[slot] != carried[slot] ? 1 : 0;
        }

        return count;
    }

    private List<(Timestamp Near, long Difference)> FindPassed()
    {
        List<(Timestamp, long)> passed = [];
        int far = 0;
        for (int place = 0; place < _near.Distinct.Count; place++)
        {
            (Timestamp time, ulong hash, _) = _near.Distinct[place];
            Timestamp earliest = time + _offset - Slack;
            Timestamp latest = time + _offset + TapAlignment.Window + Slack;
            if (earliest < _far.Changes[0].Time || latest > _far.Last)
            {
                continue;
            }

            Asked++;
            while (far < _far.Changes.Count && _far.Changes[far].Time < earliest)
            {
                far++;
            }

            for (int at = far; at < _far.Changes.Count && _far.Changes[at].Time <= latest; at++)
            {
                if (HashOf(_far.Changes[at]) == hash)
                {
                    passed.Add((time, (_far.Changes[at].Time - time).Nanoseconds));
                    break;
                }
            }
        }

        return passed;
    }

    private Duration Interval()
    {
        IntervalHistogram near = new();
        IntervalHistogram far = new();
        foreach (TapStream stream in _side.Streams)
        {
            for (int i = 1; i < stream.Frames.Count; i++)
            {
                near.Add(stream.Frames[i].Time - stream.Frames[i - 1].Time);
            }
        }

        for (int i = 1; i < _far.All.Count; i++)
        {
            far.Add(_far.All[i].Time - _far.All[i - 1].Time);
        }

        Duration one = near.Snapshot()?.Median ?? Duration.Zero;
        Duration other = far.Snapshot()?.Median ?? Duration.Zero;
        return one > other ? one : other;
    }

    // Of a far end that sends at a steady rate: what its gaps leave out.
    private long? Missing()
    {
        const double Steady = 1.5;
        IntervalHistogram intervals = new();
        for (int i = 1; i < _far.All.Count; i++)
        {
            intervals.Add(_far.All[i].Time - _far.All[i - 1].Time);
        }

        if (intervals.Snapshot() is not { } usual || usual.Median <= Duration.Zero || usual.P95.Nanoseconds > Steady * usual.Median.Nanoseconds)
        {
            return null;
        }

        long missing = 0;
        for (int i = 1; i < _far.All.Count; i++)
        {
            double steps = (double)(_far.All[i].Time - _far.All[i - 1].Time).Nanoseconds / usual.Median.Nanoseconds;
            missing += steps > Steady ? (long)Math.Round(steps) - 1 : 0;
        }

        return missing;
    }
}
