namespace DmxProbe.Testing.Rigs;

/// <summary>A small generator of our own (SplitMix64), so that a seed gives the same rig on every platform and version.</summary>
public sealed class RigRandom(ulong seed)
{
    private ulong _state = seed;
    private double _spare = double.NaN;

    /// <summary>The next 64 bits.</summary>
    public ulong Next()
    {
        unchecked
        {
            _state += 0x9E3779B97F4A7C15;
            ulong z = _state;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
            return z ^ (z >> 31);
        }
    }

    /// <summary>0 to below 1.</summary>
    public double Unit() => (Next() >> 11) * (1.0 / (1UL << 53));

    /// <summary>From <paramref name="from"/> to below <paramref name="to"/>.</summary>
    public double Between(double from, double to) => from + (Unit() * (to - from));

    /// <summary>From 0 to below <paramref name="count"/>.</summary>
    public int Below(int count) => (int)(Unit() * count);

    /// <summary>True with a chance.</summary>
    public bool Chance(double chance) => Unit() < chance;

    /// <summary>Exponential with a mean.</summary>
    public double Exponential(double mean) => -mean * Math.Log(1 - Unit());

    /// <summary>Gaussian, mean 0, deviation 1.</summary>
    public double Gaussian()
    {
        if (!double.IsNaN(_spare))
        {
            double kept = _spare;
            _spare = double.NaN;
            return kept;
        }

        double size = Math.Sqrt(-2 * Math.Log(1 - Unit()));
        double angle = 2 * Math.PI * Unit();
        _spare = size * Math.Sin(angle);
        return size * Math.Cos(angle);
    }

    /// <summary>One of several.</summary>
    public T Pick<T>(IReadOnlyList<T> values) => values[Below(values.Count)];

    /// <summary>In any order.</summary>
    public void Shuffle<T>(IList<T> values)
    {
        for (int i = values.Count - 1; i > 0; i--)
        {
            int j = Below(i + 1);
            (values[i], values[j]) = (values[j], values[i]);
        }
    }
}
