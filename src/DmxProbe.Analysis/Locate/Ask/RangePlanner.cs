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

    private const double LeastBits = 0.002;
    private const int Likeliest = 6;

    // A look over two universes is more to type; it must tell this much more.
    private const double OfUniverse = 0.01;

    private readonly AskRig _rig;

    /// <summary>Makes it for a rig.</summary>
    public RangePlanner(AskRig rig)
    {
        ArgumentNullException.ThrowIfNull(rig);
        _rig = rig;
    }

    /// <inheritdoc/>
    public AskQuestion? Next(AskPosterior posterior, AskSafety safety)
    {
        ArgumentNullException.ThrowIfNull(posterior);
        ArgumentNullException.ThrowIfNull(safety);
        byte level = safety.Level();
        byte[][] dark = DarkStage.Of(_rig, safety);
        RaisedSlot[] open = [.. Open(safety, level)];
        LitScan scan = new(_rig.Space, safety.Dangers);
        (double Value, RaisedSlot[] Raised) best = (LeastBits, []);
        Sweep(scan, dark, posterior, open, ref best);
        Array.Reverse(open);
        Sweep(scan, dark, posterior, open, ref best);
        Array.Reverse(open);
        Stretches(scan, dark, posterior, open, ref best);
        return best.Raised.Length == 0 ? null : Question(best.Raised, dark, scan, posterior);
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

    /// <summary>Raises slot after slot and keeps the place where the question would be best.</summary>
    private static void Sweep(LitScan scan, byte[][] dark, AskPosterior posterior, RaisedSlot[] order, ref (double Value, RaisedSlot[] Raised) best)
    {
        scan.Load(dark, posterior.Span);
        double error = posterior.EyeError;
        int end = 0;
        int universes = 0;
        for (int i = 0; i < order.Length; i++)
        {
            universes += i == 0 || order[i].Universe != order[i - 1].Universe ? 1 : 0;
            scan.Set(order[i].Universe, order[i].Slot, order[i].Level);
            double value = scan.Bits(error) - (OfUniverse * (universes - 1));
            if (scan.Risk <= AskSafety.MostRisk && value > best.Value + 1e-9)
            {
                best = (value, []);
                end = i + 1;
            }
        }

        best = end > 0 ? (best.Value, order[..end]) : best;
    }

    private void Stretches(LitScan scan, byte[][] dark, AskPosterior posterior, RaisedSlot[] open, ref (double Value, RaisedSlot[] Raised) best)
    {
        scan.Load(dark, posterior.Span);
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
            (double Value, int End) here = (best.Value, 0);
            for (; end < open.Length && open[end].Universe == universe && open[end].Slot < from + reach; end++)
            {
                scan.Set(universe, open[end].Slot, open[end].Level);
                double value = scan.Bits(error);
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
}
