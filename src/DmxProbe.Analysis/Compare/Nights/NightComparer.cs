using System.Globalization;
using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>
/// Holds tonight against last night: cues are aligned by content, looks that stood in both are compared slot by slot, and what
/// differs is grouped by unit and cue. Whole universes, senders and units that differ are told once, not look by look.
/// </summary>
public sealed class NightComparer
{
    /// <summary>How far a level may be off: more than this of 255 is a difference.</summary>
    public const int LevelTolerance = 2;

    /// <summary>How long a look must stand in both nights to be compared.</summary>
    public static readonly Duration LeastLook = Duration.FromSeconds(2);

    /// <summary>How long a look must stand that only one night has.</summary>
    public static readonly Duration LeastCue = Duration.FromSeconds(3);

    private readonly Night _last;
    private readonly Night _tonight;
    private readonly List<(int Last, int Tonight)> _pairs;
    private readonly List<(NightStream Last, NightStream Tonight)> _streams = [];
    private readonly NightUnits _units;
    private readonly List<NightDifference> _found = [];
    private readonly HashSet<int> _told = []; // units told as a whole

    private NightComparer(Night last, Night tonight, IReadOnlyList<NightUnit> units)
    {
        _last = last;
        _tonight = tonight;
        _units = new NightUnits(units);
        _pairs = NightAlignment.Find(last.Changes, tonight.Changes);
    }

    /// <summary>Compares two nights.</summary>
    /// <param name="last">Last night.</param>
    /// <param name="lastSurvey">The survey of the same recording.</param>
    /// <param name="tonight">Tonight.</param>
    /// <param name="tonightSurvey">The survey of the same recording.</param>
    /// <param name="units">The units of the patch sheet; empty without one: differences are then told by slots.</param>
    public static NightComparison Compare(
        Night last, SurveySnapshot lastSurvey, Night tonight, SurveySnapshot tonightSurvey, IReadOnlyList<NightUnit> units)
    {
        NightComparer comparer = new(last, tonight, units);
        comparer.Senders();
        comparer.Still();
        NightCues cues = new(last, tonight, comparer._pairs, comparer._streams, comparer._units);
        comparer._found.AddRange(cues.Tell(comparer._told));
        NightLooks looks = new(last, tonight, comparer._pairs, comparer._streams, comparer._units, cues);
        comparer._found.AddRange(looks.Tell(comparer._told));
        comparer._found.AddRange(NightFigures.Compare(lastSurvey, tonightSurvey));
        return new NightComparison(
            last.CueCount,
            tonight.CueCount,
            comparer._pairs.Count,
            [.. comparer._found.OrderBy(each => each.Kind).ThenByDescending(each => each.Weight).ThenBy(each => each.At ?? each.AtLastNight ?? Timestamp.MinValue)],
            looks.Compared,
            looks.Running,
            [.. comparer.Notes(cues.PassedThrough + looks.PassedThrough)]);
    }

    // Universes and senders that only one night has, and which streams are the same.
    private void Senders()
    {
        SortedSet<Decoding.UniverseId> universes = [.. _last.Streams.Concat(_tonight.Streams).Select(stream => stream.Universe)];
        List<(NightDifferenceKind Kind, string Subject, Decoding.UniverseId Universe)> told = [];
        foreach (Decoding.UniverseId universe in universes)
        {
            List<NightStream> before = [.. _last.Streams.Where(stream => stream.Universe == universe)];
            List<NightStream> now = [.. _tonight.Streams.Where(stream => stream.Universe == universe)];
            if (before.Count == 0 || now.Count == 0)
            {
                told.Add((before.Count == 0 ? NightDifferenceKind.UniverseNew : NightDifferenceKind.UniverseMissing, Names(before.Concat(now)), universe));
                continue;
            }

            foreach (NightStream stream in before.ToArray())
            {
                if (now.Find(each => each.SenderKey == stream.SenderKey) is NightStream same)
                {
                    _streams.Add((stream, same));
                    before.Remove(stream);
                    now.Remove(same);
                }
            }

            told.AddRange(before.Select(stream => (NightDifferenceKind.SenderMissing, Name(stream.Sender), universe)));
            told.AddRange(now.Select(stream => (NightDifferenceKind.SenderNew, Name(stream.Sender), universe)));
            if (before.Count == 1 && now.Count == 1)
            {
                _streams.Add((before[0], now[0])); // another machine in its place: its levels are compared
            }
        }

        // One sender, one difference, however many universes.
        foreach (IGrouping<(NightDifferenceKind Kind, string Subject), (NightDifferenceKind Kind, string Subject, Decoding.UniverseId Universe)> each in told.GroupBy(each => (each.Kind, each.Subject)))
        {
            List<string> labels = NightUnits.Universes(each.Select(one => one.Universe));
            bool isUniverse = each.Key.Kind is NightDifferenceKind.UniverseMissing or NightDifferenceKind.UniverseNew;
            bool isGone = each.Key.Kind is NightDifferenceKind.UniverseMissing or NightDifferenceKind.SenderMissing;
            string there = isUniverse ? "sent by " + each.Key.Subject : "sent " + NightUnits.List(labels);
            _found.Add(new NightDifference
            {
                Kind = each.Key.Kind,
                Subjects = isUniverse ? labels : [each.Key.Subject],
                LastNight = isGone ? there : "not there",
                Tonight = isGone ? "not there" : there,
            });
        }
    }

    // Units that moved one night and not the other.
    private void Still()
    {
        const int Fewest = 3;
        Dictionary<int, int> before = Moves(_pairs.Select(pair => pair.Last), stream => stream.Last);
        Dictionary<int, int> now = Moves(_pairs.Select(pair => pair.Tonight), stream => stream.Tonight);
        List<(NightDifferenceKind Kind, int Unit, int Count)> still =
        [
            .. before.Where(unit => unit.Value >= Fewest && !now.ContainsKey(unit.Key)).Select(unit => (NightDifferenceKind.UnitStill, unit.Key, unit.Value)),
            .. now.Where(unit => unit.Value >= Fewest && !before.ContainsKey(unit.Key)).Select(unit => (NightDifferenceKind.UnitMovesNow, unit.Key, unit.Value)),
        ];
        foreach (IGrouping<(NightDifferenceKind, string), (NightDifferenceKind Kind, int Unit, int Count)> each in still.GroupBy(one => (one.Kind, _units.GroupOf(one.Unit, still.Where(other => other.Kind == one.Kind).Select(other => other.Unit)))))
        {
            (NightDifferenceKind kind, _) = each.Key;
            int most = each.Max(one => one.Count);
            string moved = string.Create(CultureInfo.InvariantCulture, $"moved in {most} cues");
            _told.UnionWith(each.Select(one => one.Unit));
            _found.Add(new NightDifference
            {
                Kind = kind,
                Subjects = _units.Names(each.Select(one => one.Unit)),
                LastNight = kind == NightDifferenceKind.UnitStill ? moved : "never moved",
                Tonight = kind == NightDifferenceKind.UnitStill ? "never moves" : "moves in" + moved["moved in".Length..],
            });
        }
    }

    // In how many cues that both nights have each unit moved; units that moved in others only have 0.
    private Dictionary<int, int> Moves(IEnumerable<int> changes, Func<(NightStream Last, NightStream Tonight), NightStream> of)
    {
        HashSet<int> matched = [.. changes];
        Dictionary<int, int> moves = [];
        HashSet<int> inChange = [];
        foreach ((NightStream Last, NightStream Tonight) pair in _streams)
        {
            NightStream stream = of(pair);
            int fewest = Math.Min(pair.Last.SlotCount, pair.Tonight.SlotCount); // a slot that is not sent is told as such
            foreach (NightLook look in stream.Looks)
            {
                inChange.Clear();
                for (int slot = 0; slot < look.Levels.Length; slot++)
                {
                    if (slot < fewest && (NightLook.Has(look.Moved, slot) || NightLook.Has(look.Running, slot)))
                    {
                        inChange.Add(_units.Of(stream.Universe, slot));
                    }
                }

                bool isInBoth = matched.Contains(look.Change);
                foreach (int unit in inChange)
                {
                    moves[unit] = moves.GetValueOrDefault(unit) + (isInBoth ? 1 : 0);
                }
            }
        }

        return moves;
    }

    private IEnumerable<string> Notes(int passedThrough)
    {
        if (_pairs.Count == 0)
        {
            yield return _last.CueCount + _tonight.CueCount == 0
                ? "levels never change in either, so only the one look was compared, and universes, senders and figures"
                : "no cue of one night was found in the other: another show, another part of it, or levels that never change; only universes, senders and figures were compared";
            yield break;
        }

        (int first, int firstTonight) = _pairs[0];
        (int last, int lastTonight) = _pairs[^1];
        foreach ((int before, int behind, string night) in new[] { (first, _last.CueCount - 1 - last, "last night"), (firstTonight, _tonight.CueCount - 1 - lastTonight, "tonight") })
        {
            string[] places = [.. new[] { (before, "before the first"), (behind, "behind the last") }.Where(each => each.Item1 > 0).Select(each => string.Create(CultureInfo.InvariantCulture, $"{each.Item1} {each.Item2}"))];
            if (places.Length > 0)
            {
                yield return $"cues {string.Join(" and ", places)} that both nights have are only in {night}, and were not compared";
            }
        }

        if (passedThrough > 0)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{passedThrough} {(passedThrough == 1 ? "look" : "looks")} that stood one night {(passedThrough == 1 ? "was" : "were")} only passed through the other night, because the next cue came sooner");
        }

        if (!_last.IsWhole || !_tonight.IsWhole)
        {
            yield return "only the first part was compared: there is more than is kept";
        }
    }

    private static string Names(IEnumerable<NightStream> streams) => string.Join(", ", streams.Select(stream => Name(stream.Sender)).Distinct());

    private static string Name(SenderSummary sender) => (sender.Name.Length, sender.Address.Length) switch
    {
        (0, 0) => "an unnamed sender",
        (0, _) => sender.Address,
        (_, 0) => sender.Name,
        _ => $"{sender.Name} ({sender.Address})",
    };
}
