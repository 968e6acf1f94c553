namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// Questions for a controller that raises ranges of slots: everything up to a slot, everything from a slot on (over all
/// universes, in order), or a stretch around the likeliest places. Not plain halving: the posterior is halved, again and
/// again, with answers that may be wrong.
/// </summary>
public sealed class RangePlanner : IAskPlanner
{
    /// <summary>Seconds that one look takes a person.</summary>
    public const double SecondsOfLook = 10;

    private const int Likeliest = 6;

    // More than this nobody types; and each run more must tell this much more.
    private const int MostRuns = 6;
    private const double OfRun = 0.01;

    // A question that rests on nothing that stands elsewhere may tell this much of one that does.
    private const double OfResting = 0.9;

    // How many of the likeliest places, and from which probability on, it is worth leaving out of what is raised.
    private const int MostHoled = 3;
    private const double LeastHoled = 0.1;
    private const int LongestHole = 4;

    // Places that are copied back in the time in which one is worked out.
    private const int CopiesOfSet = 50;

    private readonly AskRig _rig;
    private readonly int _slots;

    /// <summary>Makes it for a rig.</summary>
    public RangePlanner(AskRig rig)
    {
        ArgumentNullException.ThrowIfNull(rig);
        _rig = rig;
        _slots = rig.Space.Modes.Sum(mode => mode.Footprint);
    }

    /// <inheritdoc/>
    public AskQuestion? Next(AskPosterior posterior, AskSafety safety)
    {
        ArgumentNullException.ThrowIfNull(posterior);
        ArgumentNullException.ThrowIfNull(safety);
        byte level = safety.Level();
        byte[][] dark = DarkStage.Of(_rig, safety);
        RaisedSlot[] open = [.. Open(safety, level)];
        LitScan scan = new(_rig.Space, safety.Dangers, safety.Standing);
        scan.Load(dark, posterior.Span);
        (double Value, RaisedSlot[] Raised) best = (0, []);
        Windows(scan, dark, posterior, open, forward: true, ref best);
        Windows(scan, dark, posterior, open, forward: false, ref best);
        Stretches(scan, dark, posterior, open, ref best);
        Pairs(scan, dark, posterior, open, ref best);
        foreach (RaisedSlot[] look in SingleLooks.Of(_rig, safety))
        {
            scan.Again();
            Array.ForEach(look, slot => scan.Set(slot.Universe, slot.Slot, slot.Level));
            double value = scan.Bits(posterior.EyeError) - OfRun;
            best = scan.Risk <= AskSafety.MostRiskOfSingleLook && value > best.Value + 1e-9 ? (value, look) : best;
        }

        Holes(scan, dark, posterior, open, ref best);
        return best.Raised.Length == 0 || best.Value < AskWorth.Least(posterior) ? null
            : Question(Free(scan, dark, posterior, safety, level, best), dark, scan, posterior);
    }

    /// <inheritdoc/>
    public AskQuestion? Confirm(AskPosterior posterior, AskSafety safety, int place) =>
        ConfirmingLook.Find(_rig, posterior, safety, place) is { } raised
            ? new AskQuestion(raised, DarkStage.With(DarkStage.Of(_rig, safety), raised), 0, SecondsOfLook) { Confirms = place }
            : null;

    /// <inheritdoc/>
    public void Asked(AskQuestion question)
    {
        // Nothing is held from one look to the next.
    }

    /// <summary>
    /// The same question with more colours or dimmers of the likeliest places up, where it then rests on less of what stands
    /// elsewhere and tells about as much.
    /// </summary>
    private RaisedSlot[] Free(LitScan scan, byte[][] dark, AskPosterior posterior, AskSafety safety, byte level, (double Value, RaisedSlot[] Raised) best)
    {
        int rests = safety.Standing.Needed(DarkStage.With(dark, best.Raised), posterior.Span).Count;
        RaisedSlot[] raised = best.Raised;
        foreach (int index in rests == 0 ? [] : Likely.Of(posterior, Likeliest))
        {
            AskPlace place = _rig.Space.PlaceAt(index);
            int last = Math.Min(place.Address + _rig.Space.Modes[place.Mode].Footprint - 1, SlotHistory.SlotCount);
            for (int slot = place.Address; slot <= last && rests > 0; slot++)
            {
                if (!safety.MayRaise(place.Universe, slot, level) || raised.Any(up => up.Universe == place.Universe && up.Slot == slot))
                {
                    continue;
                }

                RaisedSlot[] more = [.. raised.Append(new RaisedSlot(place.Universe, slot, level)).OrderBy(up => up.Universe).ThenBy(up => up.Slot)];
                byte[][] levels = DarkStage.With(dark, more);
                int left = safety.Standing.Needed(levels, posterior.Span).Count;
                int runs = SlotRuns.Of(more).Count;
                scan.Load(levels, dark, posterior.Span);
                if (left < rests && runs <= MostRuns && scan.Risk <= AskSafety.MostRisk && scan.Bits(posterior.EyeError) - (OfRun * (runs - 1)) >= OfResting * best.Value)
                {
                    (raised, rests) = (more, left);
                }
            }
        }

        return raised;
    }

    private static AskQuestion Question(RaisedSlot[] raised, byte[][] dark, LitScan scan, AskPosterior posterior)
    {
        byte[][] levels = DarkStage.With(dark, raised);
        scan.Load(levels, posterior.Span);
        RaisedSlot[] ordered = [.. raised.OrderBy(slot => slot.Universe).ThenBy(slot => slot.Slot)];
        return new AskQuestion(ordered, levels, scan.Bits(posterior.EyeError), SecondsOfLook);
    }

    private IEnumerable<RaisedSlot> Open(AskSafety safety, byte level)
    {
        for (int u = 0; u < _rig.Space.Universes.Count; u++)
        {
            for (int slot = 1; slot <= SlotHistory.SlotCount; slot++)
            {
                if (safety.MayRaise(u, slot, level))
                {
                    yield return new RaisedSlot(u, slot, level);
                }
            }
        }
    }

    /// <summary>
    /// From the start (or the end) of each run of slots that may be raised: slot after slot, and the place is kept at which the
    /// question would be best.
    /// </summary>
    private void Windows(LitScan scan, byte[][] dark, AskPosterior posterior, RaisedSlot[] open, bool forward, ref (double Value, RaisedSlot[] Raised) best)
    {
        RaisedSlot[] order = forward ? open : [.. open.Reverse()];
        double error = posterior.EyeError;
        for (int start = 0; start < order.Length; start++)
        {
            if (start > 0 && AreNeighbours(order[start - 1], order[start]))
            {
                continue;
            }

            int runs = 0;
            int end = 0;
            int i = start;
            for (; i < order.Length; i++)
            {
                runs += i == start || !AreNeighbours(order[i - 1], order[i]) ? 1 : 0;
                if (runs > MostRuns)
                {
                    break;
                }

                scan.Set(order[i].Universe, order[i].Slot, order[i].Level);
                double value = scan.Bits(error) - (OfRun * (runs - 1));
                if (scan.Risk <= AskSafety.MostRisk && value > best.Value + 1e-9)
                {
                    best = (value, []);
                    end = i + 1;
                }
            }

            if ((i - start) * _slots * CopiesOfSet > _rig.Space.Count)
            {
                scan.Again();
            }
            else
            {
                for (int k = start; k < i; k++)
                {
                    scan.Set(order[k].Universe, order[k].Slot, dark[order[k].Universe][order[k].Slot - 1]);
                }
            }

            best = end > 0 ? (best.Value, order[start..end]) : best;
        }
    }

    private static bool AreNeighbours(RaisedSlot first, RaisedSlot second) =>
        first.Universe == second.Universe && Math.Abs(first.Slot - second.Slot) == 1;

    private void Stretches(LitScan scan, byte[][] dark, AskPosterior posterior, RaisedSlot[] open, ref (double Value, RaisedSlot[] Raised) best)
    {
        scan.Again();
        double error = posterior.EyeError;
        HashSet<(int, int)> starts = [];
        foreach (int index in Likely.Of(posterior, Likeliest))
        {
            AskPlace place = _rig.Space.PlaceAt(index);
            for (int from = Math.Max(1, place.Address - 1); from <= place.Address + _rig.Space.Modes[place.Mode].Footprint; from++)
            {
                starts.Add((place.Universe, from));
            }
        }

        int reach = (2 * _rig.Space.Longest) + 4;
        foreach ((int universe, int from) in starts)
        {
            int first = Array.FindIndex(open, slot => slot.Universe == universe && slot.Slot >= from);
            if (first < 0)
            {
                continue;
            }

            int end = first;
            int runs = 0;
            (double Value, int End) here = (best.Value, 0);
            for (; end < open.Length && open[end].Universe == universe && open[end].Slot < from + reach; end++)
            {
                scan.Set(universe, open[end].Slot, open[end].Level);
                runs += end == first || !AreNeighbours(open[end - 1], open[end]) ? 1 : 0;
                double value = scan.Bits(error) - (OfRun * (runs - 1));
                if (scan.Risk <= AskSafety.MostRisk && value > here.Value + 1e-9)
                {
                    here = (value, end + 1);
                }
            }

            for (int i = first; i < end; i++)
            {
                scan.Set(universe, open[i].Slot, dark[universe][open[i].Slot - 1]);
            }

            best = here.End > 0 ? (here.Value, open[first..here.End]) : best;
        }
    }

    /// <summary>Two slots of a likely place: a dimmer and a colour that lie far apart.</summary>
    private void Pairs(LitScan scan, byte[][] dark, AskPosterior posterior, RaisedSlot[] open, ref (double Value, RaisedSlot[] Raised) best)
    {
        scan.Again();
        double error = posterior.EyeError;
        foreach (int index in Likely.Of(posterior, Likeliest))
        {
            AskPlace place = _rig.Space.PlaceAt(index);
            RaisedSlot[] own = [.. open.Where(slot => slot.Universe == place.Universe && slot.Slot >= place.Address && slot.Slot < place.Address + _rig.Space.Modes[place.Mode].Footprint)];
            for (int i = 0; i < own.Length; i++)
            {
                scan.Set(own[i].Universe, own[i].Slot, own[i].Level);
                for (int k = i + 2; k < own.Length; k++)
                {
                    scan.Set(own[k].Universe, own[k].Slot, own[k].Level);
                    double value = scan.Bits(error) - OfRun;
                    best = scan.Risk <= AskSafety.MostRisk && value > best.Value + 1e-9 ? (value, [own[i], own[k]]) : best;
                    scan.Set(own[k].Universe, own[k].Slot, dark[own[k].Universe][own[k].Slot - 1]);
                }

                scan.Set(own[i].Universe, own[i].Slot, dark[own[i].Universe][own[i].Slot - 1]);
            }
        }
    }

    /// <summary>
    /// All that may be raised, or all of it around a likely place, but for a few slots of that place: dark only there. It tells
    /// the place from those that share its slots, which no look with the slots up can.
    /// </summary>
    private void Holes(LitScan scan, byte[][] dark, AskPosterior posterior, RaisedSlot[] open, ref (double Value, RaisedSlot[] Raised) best)
    {
        int[] likely = [.. Likely.Of(posterior, MostHoled).Where(index => posterior.Span[index] >= LeastHoled)];
        int reach = _rig.Space.Longest + 2;
        foreach (int index in likely)
        {
            AskPlace place = _rig.Space.PlaceAt(index);
            int end = place.Address + _rig.Space.Modes[place.Mode].Footprint + reach;
            RaisedSlot[] near = [.. open.Where(slot => slot.Universe == place.Universe && slot.Slot >= place.Address - reach && slot.Slot < end)];
            scan.Again();
            Array.ForEach(near, slot => scan.Set(slot.Universe, slot.Slot, slot.Level));
            Holed(scan, dark, posterior.EyeError, near, place, ref best);
        }

        if (likely.Length > 0 && SlotRuns.Of(open).Count < MostRuns)
        {
            scan.Load(DarkStage.With(dark, open), dark, posterior.Span);
            foreach (int index in likely)
            {
                Holed(scan, dark, posterior.EyeError, open, _rig.Space.PlaceAt(index), ref best);
            }
        }
    }

    /// <summary>Leaves stretches of a place's slots out of what is raised, and puts them back.</summary>
    private void Holed(LitScan scan, byte[][] dark, double error, RaisedSlot[] around, AskPlace place, ref (double Value, RaisedSlot[] Raised) best)
    {
        int runs = SlotRuns.Of(around).Count + 1;
        int last = Math.Min(place.Address + _rig.Space.Modes[place.Mode].Footprint - 1, SlotHistory.SlotCount);
        RaisedSlot[] own = [.. around.Where(slot => slot.Universe == place.Universe && slot.Slot >= place.Address && slot.Slot <= last)];
        (int From, int To) hole = (0, 0);
        for (int from = 0; from < own.Length && runs <= MostRuns; from++)
        {
            int to = from;
            for (; to < own.Length && to < from + LongestHole; to++)
            {
                scan.Set(place.Universe, own[to].Slot, dark[place.Universe][own[to].Slot - 1]);
                double value = scan.Bits(error) - (OfRun * (runs - 1));
                if (scan.Risk <= AskSafety.MostRisk && value > best.Value + 1e-9)
                {
                    best = (value, []);
                    hole = (own[from].Slot, own[to].Slot);
                }
            }

            Array.ForEach(own[from..to], slot => scan.Set(slot.Universe, slot.Slot, slot.Level));
        }

        best = hole.From == 0 ? best : (best.Value, [.. around.Where(slot => slot.Universe != place.Universe || slot.Slot < hole.From || slot.Slot > hole.To)]);
    }
}
