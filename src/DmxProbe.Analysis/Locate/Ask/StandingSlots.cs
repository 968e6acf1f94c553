using DmxProbe.Fixtures.Light;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// Slots that no question raises and that stood above 0 at the end of the capture. Somebody who asks at another controller may
/// have them elsewhere. So a look is trusted to rest on a few of them, those that a question can name; all others may stand
/// as they stood or at 0.
/// </summary>
internal sealed class StandingSlots
{
    // More than this no question names.
    private const int Most = 8;
    private const double Differs = 0.05;

    // Places below this are not worth words: their light counts as in doubt where it rests on what stands.
    private const double OpenFrom = 0.005;

    private readonly AskRig _rig;
    private readonly SlotUses _uses;
    private readonly int[][] _lightSlots;
    private readonly bool[][] _stands;
    private readonly bool[][] _kept;
    private readonly int[][] _doubtful;

    public StandingSlots(AskRig rig, SlotUses uses)
    {
        (_rig, _uses) = (rig, uses);
        _lightSlots = [.. rig.Space.Modes.Select(mode => new LightModel(mode).LightSlots.ToArray())];
        _stands = [.. rig.Held.Select(_ => new bool[SlotHistory.SlotCount])];
        _kept = [.. rig.Held.Select(_ => new bool[SlotHistory.SlotCount])];
        _doubtful = [.. rig.Held.Select(_ => new int[SlotHistory.SlotCount + 1])];
    }

    /// <summary>Whether what stands is known from the wire: then nothing is in doubt.</summary>
    public bool IsKnown { get; set; }

    /// <summary>Chooses which slots looks may rest on: those that matter at the likeliest places.</summary>
    /// <param name="probability">Of every place and of "none of these".</param>
    /// <param name="cleared">Universes of which unpatched slots may be raised.</param>
    /// <param name="shared">Universes that several senders decide: whoever asks can leave nothing there.</param>
    public void Update(ReadOnlySpan<double> probability, IReadOnlyCollection<int> cleared, IReadOnlySet<int> shared)
    {
        bool any = false;
        for (int u = 0; u < _stands.Length; u++)
        {
            Array.Clear(_kept[u]);
            for (int slot = 1; slot <= SlotHistory.SlotCount; slot++)
            {
                SlotUse use = _uses[u, slot];
                bool stands = _rig.Held[u][slot - 1] > 0 && use != SlotUse.Light && !shared.Contains(u) && !(use == SlotUse.Unpatched && cleared.Contains(u));
                _stands[u][slot - 1] = stands;
                any |= stands;
            }
        }

        int kept = 0;
        foreach (int index in any ? Open(probability) : [])
        {
            AskPlace place = _rig.Space.PlaceAt(index);
            int[] more = [.. Of(place).Where(slot => !_kept[place.Universe][slot - 1])];
            if (kept + more.Length <= Most)
            {
                kept += more.Length;
                Array.ForEach(more, slot => _kept[place.Universe][slot - 1] = true);
            }
        }

        for (int u = 0; u < _stands.Length; u++)
        {
            for (int slot = 1; slot <= SlotHistory.SlotCount; slot++)
            {
                _doubtful[u][slot] = _doubtful[u][slot - 1] + (_stands[u][slot - 1] && !_kept[u][slot - 1] ? 1 : 0);
            }
        }
    }

    /// <summary>Whether a slot of a place is in doubt.</summary>
    public bool Doubts(int universe, int address, int mode)
    {
        int last = Math.Min(address + _rig.Space.Modes[mode].Footprint - 1, SlotHistory.SlotCount);
        return !IsKnown && _doubtful[universe][last] > _doubtful[universe][address - 1];
    }

    /// <summary>Whether a slot stood, and no question raises it.</summary>
    public bool Stands(int universe, int slot) => _stands[universe][slot - 1];

    /// <summary>Whether a slot stood and no question may rest on it.</summary>
    public bool IsDoubtful(int universe, int slot) => _stands[universe][slot - 1] && !_kept[universe][slot - 1];

    /// <summary>Levels with everything that stood at 0, but for some slots; null where nothing stood.</summary>
    public byte[][]? Without(IReadOnlyList<byte[]> levels, IReadOnlyList<RaisedSlot> but)
    {
        if (!_stands.Any(universe => universe.Contains(true)))
        {
            return null;
        }

        HashSet<(int, int)> left = [.. but.Select(slot => (slot.Universe, slot.Slot))];
        return [.. levels.Select((universe, u) => universe.Select((level, at) => _stands[u][at] && !left.Contains((u, at + 1)) ? (byte)0 : level).ToArray())];
    }

    /// <summary>The slots that must stay as they stood, so that every likely place is lit or dark as it is reckoned; in order.</summary>
    public IReadOnlyList<RaisedSlot> Needed(IReadOnlyList<byte[]> levels, ReadOnlySpan<double> probability)
    {
        List<RaisedSlot> needed = [];
        if (Without(levels, []) is not byte[][] bare)
        {
            return needed;
        }

        foreach (int index in Open(probability))
        {
            AskPlace place = _rig.Space.PlaceAt(index);
            int[] own = [.. Of(place).Where(slot => _kept[place.Universe][slot - 1] && bare[place.Universe][slot - 1] == 0)];
            byte[] there = bare[place.Universe];
            double without = Lit(place, there);
            Array.ForEach(own, slot => there[slot - 1] = levels[place.Universe][slot - 1]);
            double reckoned = Lit(place, there);
            bool rests = Math.Abs(reckoned - without) > Differs;
            foreach (int slot in own)
            {
                there[slot - 1] = 0;
                if (rests && Math.Abs(Lit(place, there) - reckoned) > Differs)
                {
                    there[slot - 1] = levels[place.Universe][slot - 1];
                    needed.Add(new RaisedSlot(place.Universe, slot, there[slot - 1]));
                }
            }
        }

        return [.. needed.OrderBy(slot => slot.Universe).ThenBy(slot => slot.Slot)];
    }

    private static IEnumerable<int> Open(ReadOnlySpan<double> probability)
    {
        List<(double Probability, int Index)> open = [];
        for (int i = 0; i < probability.Length - 1; i++)
        {
            if (probability[i] >= OpenFrom)
            {
                open.Add((probability[i], i));
            }
        }

        return open.OrderByDescending(each => each.Probability).ThenBy(each => each.Index).Select(each => each.Index);
    }

    /// <summary>The slots of light of a place that stood.</summary>
    private IEnumerable<int> Of(AskPlace place) =>
        _lightSlots[place.Mode].Select(slot => place.Address + slot - 1).Where(slot => slot <= SlotHistory.SlotCount && _stands[place.Universe][slot - 1]);

    private double Lit(AskPlace place, byte[] levels)
    {
        LightOutput light = _rig.Space.Light(place.Address, place.Mode, levels);
        return Eye.Lit(in light);
    }
}
