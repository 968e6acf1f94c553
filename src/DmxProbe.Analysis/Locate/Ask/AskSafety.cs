using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// What a question may raise (design, section 10): intensity and colour of units on the sheet, unpatched slots only where
/// somebody said that nothing else is on the universe, and never a level at which the unit itself, at a place that is still
/// live, would move, flash, run a programme or reset.
/// </summary>
public sealed class AskSafety
{
    /// <summary>From this probability on a place is live: no question may endanger it.</summary>
    public const double LiveFrom = 0.005;

    /// <summary>All places below that together: the most of them that a question may endanger.</summary>
    public const double MostRisk = 0.01;

    /// <summary>
    /// The same for a single look: intensity and colour of one unit of the sheet, which anybody raises in a focus session.
    /// Only where the worst that the unit can do is to flash or to run a programme.
    /// </summary>
    public const double MostRiskOfSingleLook = 0.03;

    /// <summary>What a person must type, word for word, before unpatched slots are raised.</summary>
    public const string Phrase = "nothing else is on this universe";

    private static readonly byte[] Tried = [255, 230, 200, 180, 150, 128, 100, 80, 64];

    private readonly AskRig _rig;
    private readonly SlotUses _uses;
    private readonly HashSet<int> _cleared = [];
    private readonly HashSet<int> _shared = [];
    private readonly bool[][][] _blocked;
    private readonly float[][][] _risk;
    private readonly bool[][][] _dangers;

    /// <summary>Makes it; every place counts as live until <see cref="Update"/>.</summary>
    public AskSafety(AskRig rig)
    {
        ArgumentNullException.ThrowIfNull(rig);
        _rig = rig;
        _uses = new SlotUses(rig);
        Standing = new StandingSlots(rig, _uses);
        Dangers = new UnitDangers(rig.Space);
        OnlyFlashes = rig.Space.Modes.All(mode => Enumerable.Range(1, Math.Max(mode.Footprint, 1)).All(slot => mode.Find(slot) is ChartSlot known &&
            known.Role is not (SlotRole.Position or SlotRole.Control or SlotRole.Hazard or SlotRole.Unknown) && known.Ranges.All(range => range.Effect is not (RangeEffect.ControlAction or RangeEffect.Unknown))));
        _blocked = [.. rig.Space.Universes.Select(_ => Enumerable.Range(0, SlotHistory.SlotCount).Select(_ => new bool[Tried.Length]).ToArray())];
        _risk = [.. rig.Space.Universes.Select(_ => Enumerable.Range(0, SlotHistory.SlotCount).Select(_ => new float[Tried.Length]).ToArray())];
        _dangers = [.. rig.Space.Modes.Select((mode, m) => Enumerable.Range(1, Math.Max(mode.Footprint, 1)).Select(slot => Tried.Select(level => Dangers.At(m, slot, level)).ToArray()).ToArray())];
        double[] all = new double[rig.Space.Count + 1];
        Array.Fill(all, 1);
        Update(all);
    }

    internal UnitDangers Dangers { get; }

    /// <summary>What stands and is never raised.</summary>
    internal StandingSlots Standing { get; }

    /// <summary>Whether the worst that the unit can do is to flash or to run a programme: nothing moves, resets or strikes.</summary>
    public bool OnlyFlashes { get; }

    /// <summary>Universes on which unpatched slots may be raised.</summary>
    public IReadOnlyCollection<int> Cleared => _cleared;

    /// <summary>Somebody typed <see cref="Phrase"/> for a universe.</summary>
    public void Clear(int universe) => _cleared.Add(universe);

    /// <summary>Several senders decide a universe: nothing there is raised, it might not be obeyed.</summary>
    public void Share(int universe) => _shared.Add(universe);

    /// <summary>What the sheet says a slot is.</summary>
    public SlotUse UseOf(int universe, int slot) => _uses[universe, slot];

    /// <summary>Takes over which places are live.</summary>
    public void Update(ReadOnlySpan<double> probability)
    {
        Standing.Update(probability, _cleared, _shared);
        for (int u = 0; u < _blocked.Length; u++)
        {
            for (int slot = 0; slot < SlotHistory.SlotCount; slot++)
            {
                Array.Clear(_blocked[u][slot]);
                Array.Clear(_risk[u][slot]);
            }
        }

        for (int i = 0; i < _rig.Space.Count; i++)
        {
            AskPlace place = _rig.Space.PlaceAt(i);
            bool[][] dangers = _dangers[place.Mode];
            for (int offset = 0; offset < dangers.Length && place.Address + offset <= SlotHistory.SlotCount; offset++)
            {
                bool[] blocked = _blocked[place.Universe][place.Address + offset - 1];
                float[] risk = _risk[place.Universe][place.Address + offset - 1];
                for (int k = 0; k < blocked.Length; k++)
                {
                    if (dangers[offset][k])
                    {
                        blocked[k] |= probability[i] >= LiveFrom;
                        risk[k] += (float)probability[i];
                    }
                }
            }
        }
    }

    /// <summary>Whether a slot may be raised to a level: full, or the one that <see cref="Level"/> gives.</summary>
    public bool MayRaise(int universe, int slot, byte level) => !_shared.Contains(universe) &&
        (_uses[universe, slot] == SlotUse.Light || (_uses[universe, slot] == SlotUse.Unpatched && _cleared.Contains(universe))) &&
        Array.IndexOf(Tried, level) is >= 0 and int index && !_blocked[universe][slot - 1][index];

    /// <summary>The slots of light that are up in some levels: of units of the sheet, and unpatched ones of a cleared universe.</summary>
    /// <param name="levels">512 of each universe.</param>
    public IReadOnlyList<RaisedSlot> Up(IReadOnlyList<byte[]> levels)
    {
        ArgumentNullException.ThrowIfNull(levels);
        return
        [
            .. from u in Enumerable.Range(0, levels.Count)
               from slot in Enumerable.Range(1, SlotHistory.SlotCount)
               where levels[u][slot - 1] > 0 && (_uses[u, slot] == SlotUse.Light || (_uses[u, slot] == SlotUse.Unpatched && _cleared.Contains(u)))
               select new RaisedSlot(u, slot, levels[u][slot - 1]),
        ];
    }

    /// <summary>Whether any slot of a stretch is a machine or not understood: fingers slip.</summary>
    public bool HasHazard(int universe, int from, int to)
    {
        for (int slot = Math.Max(1, from); slot <= Math.Min(to, SlotHistory.SlotCount); slot++)
        {
            if (_uses[universe, slot] == SlotUse.Hazard)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>The level at which most slots may be raised; full unless another opens a fifth more of them.</summary>
    public byte Level()
    {
        byte best = Tried[0];
        double most = 0;
        foreach (byte level in Tried)
        {
            int open = 0;
            for (int u = 0; u < _rig.Space.Universes.Count; u++)
            {
                for (int slot = 1; slot <= SlotHistory.SlotCount; slot++)
                {
                    open += MayRaise(u, slot, level) && _risk[u][slot - 1][Array.IndexOf(Tried, level)] <= MostRisk / 20 ? 1 : 0;
                }
            }

            if (open > most * 1.2)
            {
                (best, most) = (level, open);
            }
        }

        return best;
    }
}
