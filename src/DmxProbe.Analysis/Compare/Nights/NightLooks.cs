using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>Looks that stood both nights, slot by slot. What differs in looks that follow each other is one difference.</summary>
internal sealed class NightLooks
{
    private const int MostSlots = 64;
    private readonly Night _last;
    private readonly Night _tonight;
    private readonly IReadOnlyList<(int Last, int Tonight)> _pairs;
    private readonly IReadOnlyList<(NightStream Last, NightStream Tonight)> _streams;
    private readonly NightUnits _units;
    private readonly NightCues _cues;
    private readonly HashSet<int> _running = [];
    private readonly List<(int Stream, int Slot, int Unit, byte Last, byte Tonight)> _differing = [];

    public NightLooks(
        Night last,
        Night tonight,
        IReadOnlyList<(int Last, int Tonight)> pairs,
        IReadOnlyList<(NightStream Last, NightStream Tonight)> streams,
        NightUnits units,
        NightCues cues)
    {
        _last = last;
        _tonight = tonight;
        _pairs = pairs;
        _streams = streams;
        _units = units;
        _cues = cues;
    }

    /// <summary>Looks compared.</summary>
    public int Compared { get; private set; }

    /// <summary>Units with slots that ran effects, and were left out where they did.</summary>
    public int Running => _running.Count;

    /// <summary>Looks that were not compared because the next cue was already part of them in one night.</summary>
    public int PassedThrough { get; private set; }

    /// <summary>Finds what differs.</summary>
    /// <param name="told">Units that were told as a whole.</param>
    public List<NightDifference> Tell(IReadOnlySet<int> told)
    {
        if (_last.CueCount + _tonight.CueCount == 0)
        {
            return [.. Standing(told)];
        }

        Dictionary<int, Run> open = [];
        List<Run> runs = [];
        for (int pair = 0; pair < _pairs.Count; pair++)
        {
            (int last, int tonight) = _pairs[pair];
            _cues.Advance(pair);
            if (_last.Held(last) < NightComparer.LeastLook || _tonight.Held(tonight) < NightComparer.LeastLook)
            {
                continue;
            }

            _differing.Clear();
            for (int stream = 0; stream < _streams.Count; stream++)
            {
                if (_streams[stream].Last.After(last) is NightLook one && _streams[stream].Tonight.After(tonight) is NightLook other)
                {
                    Compare(stream, one, other, told);
                }
            }

            if (IsACueAhead(pair))
            {
                PassedThrough++;
                continue;
            }

            Compared++;
            Dictionary<int, Run> now = [];
            foreach ((int stream, int slot, int unit, byte before, byte after) in _differing)
            {
                if (!now.TryGetValue(unit, out Run? run))
                {
                    run = open.GetValueOrDefault(unit) ?? new Run(unit, pair);
                    now.Add(unit, run);
                }

                run.Last = pair;
                run.Cues.Add(pair);
                run.Slots.TryAdd((_streams[stream].Tonight.Universe, slot), (before, after));
            }

            runs.AddRange(open.Where(run => !now.ContainsKey(run.Key)).Select(run => run.Value));
            open = now;
        }

        runs.AddRange(open.Values);
        return [.. runs.GroupBy(run => (run.First, run.Last)).Select(cue => Tell(cue.Key.First, [.. cue]))];
    }

    // Levels that never changed in either night: the one look that there is.
    private IEnumerable<NightDifference> Standing(IReadOnlySet<int> told)
    {
        for (int stream = 0; stream < _streams.Count; stream++)
        {
            if (_streams[stream].Last.After(0) is NightLook one && _streams[stream].Tonight.After(0) is NightLook other)
            {
                Compare(stream, one, other, told);
                Compared = 1;
            }
        }

        return _differing.GroupBy(each => each.Unit < _units.Count ? each.Unit : -1 - each.Stream).Select(unit => Difference(
            [
                .. unit.Select(each => new NightSlotDifference(_streams[each.Stream].Tonight.Universe, each.Slot + 1, each.Last, each.Tonight)).Take(MostSlots),
            ],
            unit.Select(each => each.Unit)));
    }

    // Two cues that ran into each other one night are one look there: what differs is then where the next cue takes the other night.
    private bool IsACueAhead(int pair)
    {
        const int Fewest = 24; // two units: less may well be a change of the show
        const double Most = 0.7;
        if (pair + 1 >= _pairs.Count || _differing.Count < Fewest)
        {
            return false;
        }

        (int nextLast, int nextTonight) = (_pairs[pair].Last + 1, _pairs[pair].Tonight + 1);
        int ahead = 0;
        int behind = 0;
        int open = 0;
        foreach ((int stream, int slot, _, byte last, byte tonight) in _differing)
        {
            (bool movesLast, byte toLast) = Next(_streams[stream].Last, nextLast, slot);
            (bool movesTonight, byte toTonight) = Next(_streams[stream].Tonight, nextTonight, slot);
            open += movesLast && movesTonight ? 1 : 0;
            ahead += movesLast && !movesTonight && Math.Abs(toLast - tonight) <= NightComparer.LevelTolerance ? 1 : 0;
            behind += movesTonight && !movesLast && Math.Abs(toTonight - last) <= NightComparer.LevelTolerance ? 1 : 0;
        }

        int decided = _differing.Count - open;
        return decided > 0 && Math.Max(ahead, behind) >= Most * decided;
    }

    private static (bool Moves, byte Level) Next(NightStream stream, int change, int slot) =>
        stream.After(change) is NightLook look && look.Change == change && slot < look.Levels.Length ? (NightLook.Has(look.Moved, slot), look.Levels[slot]) : default;

    private void Compare(int stream, NightLook one, NightLook other, IReadOnlySet<int> told)
    {
        UniverseId universe = _streams[stream].Tonight.Universe;
        int count = Math.Min(one.Levels.Length, other.Levels.Length);
        for (int slot = 0; slot < count; slot++)
        {
            slot += one.Levels.AsSpan(slot, count - slot).CommonPrefixLength(other.Levels.AsSpan(slot, count - slot));
            if (slot == count || Math.Abs(one.Levels[slot] - other.Levels[slot]) <= NightComparer.LevelTolerance)
            {
                continue;
            }

            int unit = _units.Of(universe, slot);
            if (told.Contains(unit) || _cues.Explains(stream, slot, one.Levels[slot], other.Levels[slot]))
            {
                continue;
            }

            if (NightLook.Has(one.Running, slot) || NightLook.Has(other.Running, slot))
            {
                _running.Add(unit);
                continue;
            }

            _differing.Add((stream, slot, unit, one.Levels[slot], other.Levels[slot]));
        }
    }

    private NightDifference Tell(int first, List<Run> runs)
    {
        (int last, int tonight) = _pairs[first];
        NightSlotDifference[] slots =
        [
            .. runs.SelectMany(run => run.Slots).OrderBy(slot => slot.Key)
                .Select(slot => new NightSlotDifference(slot.Key.Universe, slot.Key.Slot + 1, slot.Value.Last, slot.Value.Tonight)).Take(MostSlots),
        ];
        return Difference(slots, runs.Select(run => run.Unit)) with
        {
            At = _tonight.Changes[tonight].At,
            AtLastNight = _last.Changes[last].At,
            Cues = runs.Max(run => run.Cues.Count),
        };
    }

    private NightDifference Difference(NightSlotDifference[] slots, IEnumerable<int> units) => new()
    {
        Kind = NightDifferenceKind.Levels,
        Subjects = _units.Names(units),
        LastNight = NightUnits.Levels(slots, slot => slot.LastNight),
        Tonight = NightUnits.Levels(slots, slot => slot.Tonight),
        Slots = slots,
    };

    // A unit that stands elsewhere in looks that follow each other.
    private sealed class Run(int unit, int first)
    {
        public int Unit { get; } = unit;

        public int First { get; } = first;

        public int Last { get; set; } = first;

        public HashSet<int> Cues { get; } = [];

        public SortedDictionary<(UniverseId Universe, int Slot), (byte Last, byte Tonight)> Slots { get; } = [];
    }
}
