namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// Questions for a controller with pages of faders: a page at a time is set, the light is watched, and what is up stays up
/// while the next page is worked. Pages with a machine or a slot that nobody understands are skipped whole.
/// </summary>
public sealed class FaderPlanner : IAskPlanner
{
    /// <summary>Seconds that setting one page takes.</summary>
    public const double SecondsOfPage = 5;

    private const int Likeliest = 8;

    private readonly AskRig _rig;
    private readonly int _faders;
    private readonly Dictionary<(int Universe, int Slot), byte> _up = [];

    /// <summary>Makes it.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="faders">Faders of a page, 1 to 512.</param>
    public FaderPlanner(AskRig rig, int faders)
    {
        ArgumentNullException.ThrowIfNull(rig);
        ArgumentOutOfRangeException.ThrowIfNotEqual(faders is >= 1 and <= SlotHistory.SlotCount, true, nameof(faders));
        _rig = rig;
        _faders = faders;
    }

    /// <inheritdoc/>
    public AskQuestion? Next(AskPosterior posterior, AskSafety safety)
    {
        ArgumentNullException.ThrowIfNull(posterior);
        ArgumentNullException.ThrowIfNull(safety);
        byte level = safety.Level();
        byte[][] dark = DarkStage.Of(_rig, safety);
        byte[][] now = Now(dark);
        LitScan scan = new(_rig.Space, safety.Dangers, safety.Standing);
        scan.Load(now, posterior.Span);
        double error = posterior.EyeError;
        (double Value, FaderStep? Step) best = (AskWorth.Least(posterior), null);
        FaderStep[] full = [.. Pages().Select(page => Page(safety, page.Universe, page.Page, level)).OfType<FaderStep>()];
        for (int i = 0; i < full.Length; i++)
        {
            if (!IsSet(full[i]))
            {
                Try(scan, dark, full[i], error, ref best);

                // A dimmer and its colours may lie on two pages: one page alone tells nothing, two do.
                if (i + 1 < full.Length && full[i + 1].Universe == full[i].Universe && full[i + 1].Page == full[i].Page + 1)
                {
                    Apply(scan, dark, full[i]);
                    (double Value, FaderStep? Step) two = (2 * best.Value, null);
                    Try(scan, dark, full[i + 1], error, ref two);
                    Undo(scan, now, full[i]);
                    best = two.Step is null ? best : (two.Value / 2, full[i]);
                }
            }

            if (full[i].Up.Any(slot => _up.ContainsKey((full[i].Universe, slot))))
            {
                Try(scan, dark, full[i] with { Up = [] }, error, ref best);
            }
        }

        foreach (FaderStep part in Parts(posterior, safety, level))
        {
            Try(scan, dark, part, error, ref best);
        }

        if (best.Step is null && Single(scan, dark, posterior, safety, error) is AskQuestion single)
        {
            return single;
        }

        return best.Step is FaderStep step ? Question([step], scan, dark, posterior) : null;

        void Try(LitScan tried, byte[][] down, FaderStep step, double eye, ref (double Value, FaderStep? Step) top)
        {
            Dictionary<int, byte> before = Apply(tried, down, step);
            double value = tried.Bits(eye);
            if (before.Count > 0 && tried.Risk <= AskSafety.MostRisk && value > top.Value + 1e-9)
            {
                top = (value, step);
            }

            foreach ((int slot, byte was) in before)
            {
                tried.Set(step.Universe, slot, was);
            }
        }
    }

    /// <inheritdoc/>
    public AskQuestion? Confirm(AskPosterior posterior, AskSafety safety, int place)
    {
        ArgumentNullException.ThrowIfNull(posterior);
        ArgumentNullException.ThrowIfNull(safety);
        if (ConfirmingLook.Find(_rig, posterior, safety, place) is not { } raised ||
            raised.Any(slot => HazardOn(safety, slot.Universe, PageOf(slot.Slot))))
        {
            return null;
        }

        // All other pages down first: a confirming look shows this place and nothing else.
        return Alone(raised, safety, 0) with { Confirms = place };
    }

    /// <inheritdoc/>
    public void Asked(AskQuestion question)
    {
        ArgumentNullException.ThrowIfNull(question);
        _up.Clear();
        foreach (RaisedSlot slot in question.Raised)
        {
            _up[(slot.Universe, slot.Slot)] = slot.Level;
        }
    }

    private AskQuestion Question(IReadOnlyList<FaderStep> steps, LitScan scan, byte[][] dark, AskPosterior posterior)
    {
        Dictionary<(int Universe, int Slot), byte> up = new(_up);
        foreach (FaderStep step in steps)
        {
            for (int slot = step.First; slot < step.First + _faders; slot++)
            {
                up.Remove((step.Universe, slot));
            }

            foreach (int slot in step.Up)
            {
                up[(step.Universe, slot)] = step.Level;
            }
        }

        RaisedSlot[] raised = [.. up.Select(each => new RaisedSlot(each.Key.Universe, each.Key.Slot, each.Value)).OrderBy(slot => slot.Universe).ThenBy(slot => slot.Slot)];
        byte[][] levels = DarkStage.With(dark, raised);
        scan.Load(levels, posterior.Span);
        return new AskQuestion(raised, levels, scan.Bits(posterior.EyeError), SecondsOfPage * steps.Count) { Steps = steps };
    }

    /// <summary>One unit of the sheet and nothing else: where pages tell nothing more.</summary>
    private AskQuestion? Single(LitScan scan, byte[][] dark, AskPosterior posterior, AskSafety safety, double error)
    {
        RaisedSlot[]? best = null;
        double most = AskWorth.Least(posterior);
        foreach (RaisedSlot[] look in SingleLooks.Of(_rig, safety).Where(look => !look.Any(slot => HazardOn(safety, slot.Universe, PageOf(slot.Slot)))))
        {
            scan.Load(dark, posterior.Span);
            Array.ForEach(look, slot => scan.Set(slot.Universe, slot.Slot, slot.Level));
            double value = scan.Bits(error);
            (best, most) = scan.Risk <= AskSafety.MostRiskOfSingleLook && value > most ? (look, value) : (best, most);
        }

        return best is null ? null : Alone(best, safety, most);
    }

    /// <summary>All other pages down, and these slots up.</summary>
    private AskQuestion Alone(RaisedSlot[] raised, AskSafety safety, double bits)
    {
        List<FaderStep> steps = [];
        foreach ((int universe, int page) in _up.Keys.Select(up => (up.Universe, PageOf(up.Slot))).Concat(raised.Select(slot => (slot.Universe, PageOf(slot.Slot)))).Distinct().Order())
        {
            int[] up = [.. raised.Where(slot => slot.Universe == universe && PageOf(slot.Slot) == page).Select(slot => slot.Slot)];
            steps.Add(new FaderStep(universe, page, First(page), up, raised[0].Level));
        }

        return new AskQuestion(raised, DarkStage.With(DarkStage.Of(_rig, safety), raised), bits, SecondsOfPage * steps.Count) { Steps = steps };
    }

    private byte[][] Now(byte[][] dark) => DarkStage.With(dark, _up.Select(each => new RaisedSlot(each.Key.Universe, each.Key.Slot, each.Value)));

    private IEnumerable<(int Universe, int Page)> Pages() =>
        from universe in Enumerable.Range(0, _rig.Space.Universes.Count)
        from page in Enumerable.Range(1, ((SlotHistory.SlotCount - 1) / _faders) + 1)
        select (universe, page);

    private FaderStep? Page(AskSafety safety, int universe, int page, byte level)
    {
        if (HazardOn(safety, universe, page))
        {
            return null;
        }

        int[] up = [.. Enumerable.Range(First(page), _faders).Where(slot => slot <= SlotHistory.SlotCount && safety.MayRaise(universe, slot, level))];
        return up.Length == 0 ? null : new FaderStep(universe, page, First(page), up, level);
    }

    /// <summary>Runs of single faders, on the pages of the likeliest places.</summary>
    private IEnumerable<FaderStep> Parts(AskPosterior posterior, AskSafety safety, byte level)
    {
        HashSet<(int, int)> pages = [];
        foreach (int index in Likely.Of(posterior, Likeliest).Where(index => posterior.Span[index] > 0.005))
        {
            AskPlace place = _rig.Space.PlaceAt(index);
            for (int slot = place.Address; slot < place.Address + _rig.Space.Modes[place.Mode].Footprint && slot <= SlotHistory.SlotCount; slot++)
            {
                pages.Add((place.Universe, PageOf(slot)));
            }
        }

        foreach ((int universe, int page) in pages)
        {
            if (Page(safety, universe, page, level) is not FaderStep whole)
            {
                continue;
            }

            for (int from = 0; from < whole.Up.Count; from++)
            {
                for (int count = 1; count <= whole.Up.Count - from; count++)
                {
                    if (count < whole.Up.Count)
                    {
                        yield return whole with { Up = [.. whole.Up.Skip(from).Take(count)] };
                    }
                }
            }
        }
    }

    private bool HazardOn(AskSafety safety, int universe, int page) => safety.HasHazard(universe, First(page), First(page) + _faders - 1);

    private int PageOf(int slot) => ((slot - 1) / _faders) + 1;

    private int First(int page) => ((page - 1) * _faders) + 1;

    private bool IsSet(FaderStep step) =>
        Enumerable.Range(step.First, _faders).All(slot => _up.GetValueOrDefault((step.Universe, slot)) == (step.Up.Contains(slot) ? step.Level : 0));

    /// <summary>Sets a page; what changed, with its level before.</summary>
    private Dictionary<int, byte> Apply(LitScan scan, byte[][] dark, FaderStep step)
    {
        Dictionary<int, byte> before = [];
        for (int slot = step.First; slot < step.First + _faders && slot <= SlotHistory.SlotCount; slot++)
        {
            byte level = step.Up.Contains(slot) ? step.Level : dark[step.Universe][slot - 1];
            byte was = scan.At(step.Universe, slot);
            if (was != level)
            {
                before[slot] = was;
                scan.Set(step.Universe, slot, level);
            }
        }

        return before;
    }

    private void Undo(LitScan scan, byte[][] now, FaderStep step)
    {
        for (int slot = step.First; slot < step.First + _faders && slot <= SlotHistory.SlotCount; slot++)
        {
            scan.Set(step.Universe, slot, now[step.Universe][slot - 1]);
        }
    }
}
