namespace DmxProbe.Testing.Network;

/// <summary>
/// A small generator of random numbers that gives the same numbers on every machine and every version of .NET
/// (SplitMix64, integer arithmetic only).
/// </summary>
public sealed class SeededRandom(ulong seed)
{
    private ulong _state = seed;

    /// <summary>The next 64 random bits.</summary>
    public ulong NextBits()
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

    /// <summary>A whole number from <paramref name="from"/> up to but not including <paramref name="below"/>.</summary>
    public long Next(long from, long below)
    {
        ulong high = Math.BigMul(NextBits(), (ulong)(below - from), out _);
        return from + (long)high;
    }

    /// <summary>A number from 0 up to but not including 1.</summary>
    public double NextDouble() => (NextBits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>True with the probability given.</summary>
    public bool Chance(double probability) => NextDouble() < probability;

    /// <summary>
    /// Near enough to a normal distribution of mean 0 and variance 1: the sum of twelve even ones, because logarithms
    /// and cosines may differ in their last bit from machine to machine.
    /// </summary>
    public double NextNormal()
    {
        double sum = -6;
        for (int i = 0; i < 12; i++)
        {
            sum += NextDouble();
        }

        return sum;
    }

    /// <summary>A generator of its own for a part of a simulation, so that another part may change without moving this one.</summary>
    public static SeededRandom For(ulong seed, ulong part)
    {
        SeededRandom mixer = new(unchecked(seed ^ (part * 0xD1342543DE82EF95)));
        return new SeededRandom(mixer.NextBits());
    }
}
