using System.Globalization;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>
/// Cues that only one night has, between cues that both have: left out, or put in. What such a cue changed goes on standing
/// until the next cue that sets it; <see cref="Explains"/> says so, that it is not told once more as levels.
/// </summary>
internal sealed class NightCues
{
    private const double PassedShare = 0.8;
    private readonly Night _last;
    private readonly Night _tonight;
    private readonly IReadOnlyList<(int Last, int Tonight)> _pairs;
    private readonly IReadOnlyList<(NightStream Last, NightStream Tonight)> _streams;
    private readonly NightUnits _units;
    private readonly Dictionary<int, List<(bool IsLast, int Change)>> _told = []; // by the pair behind it
    private readonly Dictionary<(int Stream, int Slot), (bool IsLast, byte Level)> _kept = [];

    public NightCues(
        Night last,
        Night tonight,
        IReadOnlyList<(int Last, int Tonight)> pairs,
        IReadOnlyList<(NightStream Last, NightStream Tonight)> streams,
        NightUnits units)
    {
        _last = last;
        _tonight = tonight;
        _pairs = pairs;
        _streams = streams;
        _units = units;
    }

    /// <summary>Looks that stood one night and were passed through the other, because the next cue came sooner.</summary>
    public int PassedThrough { get; private set; }

    /// <summary>Finds them.</summary>
    /// <param name="told">Units that were told as a whole.</param>
    public List<NightDifference> Tell(IReadOnlySet<int> told)
    {
        List<NightDifference> found = [];
        for (int pair = 0; pair + 1 < _pairs.Count; pair++)
        {
            foreach (bool isLast in new[] { true, false })
            {
                if (Only(isLast, pair, told) is NightDifference difference)
                {
                    found.Add(difference);
                }
            }
        }

        return found;
    }

    /// <summary>Goes on to a pair of cues; the pairs are asked in order.</summary>
    public void Advance(int pair)
    {
        foreach ((bool isLast, int change) in _told.GetValueOrDefault(pair) ?? [])
        {
            // Where the night without the cue stood, there it stands still.
            foreach ((int stream, int slot) in MovedIn(isLast, change))
            {
                NightLook? stood = isLast ? _streams[stream].Tonight.After(_pairs[pair - 1].Tonight) : _streams[stream].Last.After(_pairs[pair - 1].Last);
                if (stood is not null && slot < stood.Levels.Length)
                {
                    _kept[(stream, slot)] = (isLast, stood.Levels[slot]);
                }
            }
        }

        if (_kept.Count == 0)
        {
            return;
        }

        (int last, int tonight) = _pairs[pair];
        foreach ((int stream, int slot) in _kept.Keys.ToArray())
        {
            if (Moved(_streams[stream].Last, last, slot) || Moved(_streams[stream].Tonight, tonight, slot))
            {
                _kept.Remove((stream, slot));
            }
        }
    }

    /// <summary>Whether a slot stands elsewhere because a cue that was told is missing, or was put in.</summary>
    /// <param name="stream">Place among the streams.</param>
    /// <param name="slot">From 0.</param>
    /// <param name="last">Its level last night.</param>
    /// <param name="tonight">Its level tonight.</param>
    public bool Explains(int stream, int slot, byte last, byte tonight) =>
        _kept.TryGetValue((stream, slot), out (bool IsLast, byte Level) kept)
        && Math.Abs((kept.IsLast ? tonight : last) - kept.Level) <= NightComparer.LevelTolerance;

    private static bool Moved(NightStream stream, int change, int slot) =>
        stream.After(change) is NightLook look && look.Change == change && NightLook.Has(look.Moved, slot);

    private NightDifference? Only(bool isLast, int pair, IReadOnlySet<int> told)
    {
        Night night = isLast ? _last : _tonight;
        (int before, int next) = isLast ? (_pairs[pair].Last, _pairs[pair + 1].Last) : (_pairs[pair].Tonight, _pairs[pair + 1].Tonight);
        HashSet<int> units = [];
        List<int> held = [];
        for (int change = before + 1; change < next; change++)
        {
            // A look that is the same as the one before it again is a way back, and one that did not stand is a way through.
            if (night.Held(change) < NightComparer.LeastCue || IsAsBefore(isLast, change, before))
            {
                continue;
            }

            if (IsPassedThrough(isLast, change, pair))
            {
                PassedThrough++;
                continue;
            }

            held.Add(change);
            units.UnionWith(MovedIn(isLast, change).Select(slot => _units.Of(_streams[slot.Stream].Last.Universe, slot.Slot)));
        }

        units.ExceptWith(told);
        if (held.Count == 0 || units.Count == 0)
        {
            return null;
        }

        _told[pair + 1] = [.. _told.GetValueOrDefault(pair + 1) ?? [], .. Enumerable.Range(before + 1, next - before - 1).Select(change => (isLast, change))];
        string there = string.Create(CultureInfo.InvariantCulture, $"stood for {night.Held(held[0]).TotalSeconds:0.0} s{(held.Count > 1 ? $", and {held.Count - 1} more by the next cue that both have" : "")}");
        Timestamp at = night.Changes[held[0]].At;
        return new NightDifference
        {
            Kind = isLast ? NightDifferenceKind.CueMissing : NightDifferenceKind.CueExtra,
            Subjects = _units.Names(units),
            At = isLast ? null : at,
            AtLastNight = isLast ? at : null,
            Cues = held.Count,
            LastNight = isLast ? there : "not there",
            Tonight = isLast ? "not there" : there,
        };
    }

    private IEnumerable<(int Stream, int Slot)> MovedIn(bool isLast, int change)
    {
        for (int stream = 0; stream < _streams.Count; stream++)
        {
            NightStream of = isLast ? _streams[stream].Last : _streams[stream].Tonight;
            if (of.After(change) is NightLook look && look.Change == change)
            {
                for (int slot = 0; slot < look.Levels.Length; slot++)
                {
                    if (NightLook.Has(look.Moved, slot))
                    {
                        yield return (stream, slot);
                    }
                }
            }
        }
    }

    // What this look moved, and nothing after it until the next cue of both nights, moved in the other night too by then: it came there on
    // the way to another look.
    private bool IsPassedThrough(bool isLast, int change, int pair)
    {
        int own = 0;
        int passed = 0;
        (int before, int end) = isLast ? (_pairs[pair].Tonight, _pairs[pair + 1].Tonight) : (_pairs[pair].Last, _pairs[pair + 1].Last);
        int ownEnd = isLast ? _pairs[pair + 1].Last : _pairs[pair + 1].Tonight;
        foreach ((int stream, int slot) in MovedIn(isLast, change))
        {
            (NightStream mine, NightStream others) = isLast ? (_streams[stream].Last, _streams[stream].Tonight) : (_streams[stream].Tonight, _streams[stream].Last);
            if (!Enumerable.Range(change + 1, ownEnd - change).Any(later => Moved(mine, later, slot)))
            {
                own++;
                passed += Enumerable.Range(before + 1, end - before).Any(other => Moved(others, other, slot)) ? 1 : 0;
            }
        }

        return own > 0 && passed >= PassedShare * own;
    }

    private bool IsAsBefore(bool isLast, int change, int before) =>
        _streams.Select(stream => isLast ? stream.Last : stream.Tonight).All(stream => IsSame(stream.After(change), stream.After(before)));

    private static bool IsSame(NightLook? one, NightLook? other)
    {
        if (ReferenceEquals(one, other) || one is null || other is null)
        {
            return ReferenceEquals(one, other);
        }

        for (int slot = 0; slot < Math.Min(one.Levels.Length, other.Levels.Length); slot++)
        {
            if (Math.Abs(one.Levels[slot] - other.Levels[slot]) > NightComparer.LevelTolerance
                && !NightLook.Has(one.Running, slot) && !NightLook.Has(other.Running, slot))
            {
                return false;
            }
        }

        return true;
    }
}
