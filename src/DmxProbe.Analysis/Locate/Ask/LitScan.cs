using DmxProbe.Fixtures.Light;

namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>
/// How much of the probability would be lit, while slots are raised one after the other: only the places that a slot
/// touches are worked out again.
/// </summary>
/// <param name="space">The places.</param>
/// <param name="dangers">What would hurt.</param>
/// <param name="standing">What may stand as it stood or at 0; null where all of it is known.</param>
internal sealed class LitScan(AskSpace space, UnitDangers dangers, StandingSlots? standing = null)
{
    // Places that together weigh nothing are not worth their arithmetic: of danger they are left out far later than of light.
    private const double Negligible = 1e-9;
    private const double NegligibleTogether = 3e-4;

    private readonly double _dim = Math.Max(Negligible, NegligibleTogether / space.Count);
    private readonly byte[][] _levels = [.. space.Universes.Select(_ => new byte[SlotHistory.SlotCount])];
    private readonly float[] _lit = new float[space.Count];
    private readonly int[] _endangered = new int[space.Count];
    private readonly byte[] _bare = new byte[SlotHistory.SlotCount];
    private double[] _probability = [];
    private double _litMass;
    private double _vagueMass;
    private readonly byte[][] _firstLevels = [.. space.Universes.Select(_ => new byte[SlotHistory.SlotCount])];
    private readonly float[] _firstLit = new float[space.Count];
    private readonly int[] _firstEndangered = new int[space.Count];
    private (double Risk, double Lit, double Vague) _first;

    /// <summary>Probability of all places that a slot raised so far endangers.</summary>
    public double Risk { get; private set; }

    /// <summary>Probability that the light is lit, by a right eye.</summary>
    public double LitMass => _litMass;

    /// <summary>Begins with some levels, of which none counts as raised.</summary>
    /// <param name="levels">512 of each universe.</param>
    /// <param name="probability">Of every place and of "none of these".</param>
    public void Load(IReadOnlyList<byte[]> levels, ReadOnlySpan<double> probability) => Load(levels, levels, probability);

    /// <summary>Begins with some levels that were raised from others: the same as <see cref="Set"/> slot after slot.</summary>
    /// <param name="levels">512 of each universe.</param>
    /// <param name="from">What they were raised from.</param>
    /// <param name="probability">Of every place and of "none of these".</param>
    public void Load(IReadOnlyList<byte[]> levels, IReadOnlyList<byte[]> from, ReadOnlySpan<double> probability)
    {
        _probability = probability.ToArray();
        Array.Clear(_endangered);
        Risk = 0;
        _litMass = 0.1 * probability[^1];
        _vagueMass = 0;
        for (int u = 0; u < _levels.Length; u++)
        {
            levels[u].CopyTo(_levels[u], 0);
        }

        for (int i = 0; i < _lit.Length; i++)
        {
            if (_probability[i] < Negligible)
            {
                continue;
            }

            AskPlace place = space.PlaceAt(i);
            if (levels != from)
            {
                _endangered[i] = Endangered(place, from[place.Universe]);
                Risk += _endangered[i] > 0 ? _probability[i] : 0;
            }

            if (_probability[i] < _dim)
            {
                continue;
            }

            float lit = LitAt(place);
            _lit[i] = lit;
            _litMass += _probability[i] * lit;
            _vagueMass += _probability[i] * Vague(lit);
        }

        Copy(_levels, _firstLevels);
        _lit.CopyTo(_firstLit, 0);
        _endangered.CopyTo(_firstEndangered, 0);
        _first = (Risk, _litMass, _vagueMass);
    }

    /// <summary>Goes back to what was loaded last.</summary>
    public void Again()
    {
        Copy(_firstLevels, _levels);
        _firstLit.CopyTo(_lit, 0);
        _firstEndangered.CopyTo(_endangered, 0);
        (Risk, _litMass, _vagueMass) = _first;
    }

    private static void Copy(byte[][] from, byte[][] to)
    {
        for (int u = 0; u < from.Length; u++)
        {
            from[u].CopyTo(to[u], 0);
        }
    }

    /// <summary>The level of a slot now.</summary>
    public byte At(int universe, int slot) => _levels[universe][slot - 1];

    /// <summary>Whether a place would be lit now, 0 to 1.</summary>
    public double LitOf(int index)
    {
        AskPlace place = space.PlaceAt(index);
        return LitAt(place);
    }

    /// <summary>Whether a place would be lit now if nothing stood but what is raised, 0 to 1.</summary>
    public double LitOfRaised(int index)
    {
        AskPlace place = space.PlaceAt(index);
        return standing is null ? LitAt(place) : LitWithout(place, standing.Stands);
    }

    /// <summary>Brings a slot to a level.</summary>
    public void Set(int universe, int slot, byte level)
    {
        byte[] levels = _levels[universe];
        byte before = levels[slot - 1];
        if (before == level)
        {
            return;
        }

        levels[slot - 1] = level;
        for (int m = 0; m < space.Modes.Count; m++)
        {
            int lowest = Math.Max(1, slot - space.Modes[m].Footprint + 1);
            for (int address = lowest; address <= slot; address++)
            {
                int index = space.IndexOf(new AskPlace(universe, address, m));
                double weight = _probability[index];
                if (weight < Negligible)
                {
                    continue;
                }

                int change = (dangers.At(m, slot - address + 1, level) ? 1 : 0) - (dangers.At(m, slot - address + 1, before) ? 1 : 0);
                if (change != 0)
                {
                    bool was = _endangered[index] > 0;
                    _endangered[index] += change;
                    Risk += was == _endangered[index] > 0 ? 0 : was ? -weight : weight;
                }

                if (weight < _dim)
                {
                    continue;
                }

                float lit = LitAt(new AskPlace(universe, address, m));
                if (lit != _lit[index])
                {
                    _litMass += weight * (lit - _lit[index]);
                    _vagueMass += weight * (Vague(lit) - Vague(_lit[index]));
                    _lit[index] = lit;
                }
            }
        }
    }

    /// <summary>What a "lit or dark?" would tell now, bits.</summary>
    /// <param name="eyeError">How often the eye errs.</param>
    public double Bits(double eyeError)
    {
        double lit = Math.Clamp(_litMass, 0, 1);
        double vague = Math.Clamp(_vagueMass, 0, 1);
        return Math.Max(0, Entropy(eyeError + ((1 - (2 * eyeError)) * lit)) - ((1 - vague) * Entropy(eyeError)) - vague);
    }

    /// <summary>Entropy of a yes or no, bits.</summary>
    public static double Entropy(double chance) => chance is <= 0 or >= 1 ? 0
        : -(chance * Math.Log2(chance)) - ((1 - chance) * Math.Log2(1 - chance));

    /// <summary>How many more slots of a place stand at a dangerous level than before.</summary>
    private int Endangered(AskPlace place, byte[] from)
    {
        int more = 0;
        byte[] levels = _levels[place.Universe];
        int last = Math.Min(place.Address + space.Modes[place.Mode].Footprint - 1, SlotHistory.SlotCount);
        for (int slot = place.Address; slot <= last; slot++)
        {
            if (levels[slot - 1] != from[slot - 1])
            {
                more += (dangers.At(place.Mode, slot - place.Address + 1, levels[slot - 1]) ? 1 : 0) - (dangers.At(place.Mode, slot - place.Address + 1, from[slot - 1]) ? 1 : 0);
            }
        }

        return more;
    }

    private float LitAt(AskPlace place)
    {
        LightOutput light = space.Light(place.Address, place.Mode, _levels[place.Universe]);
        float lit = (float)Eye.Lit(in light);
        return standing?.Doubts(place.Universe, place.Address, place.Mode) == true ? (lit + LitWithout(place, standing.IsDoubtful)) / 2 : lit;
    }

    private float LitWithout(AskPlace place, Func<int, int, bool> left)
    {
        int last = Math.Min(place.Address + space.Modes[place.Mode].Footprint - 1, SlotHistory.SlotCount);
        for (int slot = place.Address; slot <= last; slot++)
        {
            _bare[slot - 1] = left(place.Universe, slot) ? (byte)0 : _levels[place.Universe][slot - 1];
        }

        LightOutput light = space.Light(place.Address, place.Mode, _bare);
        return (float)Eye.Lit(in light);
    }

    private static double Vague(float lit) => 4 * lit * (1 - lit);
}
