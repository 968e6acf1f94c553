namespace DmxProbe.Testing.Network;

/// <summary>Simple things to play.</summary>
public static class Levels
{
    /// <summary>The slots given, the rest 0, for ever.</summary>
    public static LevelSource Constant(params byte[] slots) => (_, target) =>
    {
        target.Clear();
        slots.AsSpan(0, Math.Min(slots.Length, target.Length)).CopyTo(target);
    };

    /// <summary>Every slot another value at each step of <paramref name="every"/> ns, from a seed; constant in between.</summary>
    public static LevelSource Steps(ulong seed, long every) => (time, target) =>
    {
        SeededRandom random = SeededRandom.For(seed, (ulong)(time / every));
        for (int i = 0; i < target.Length; i++)
        {
            target[i] = (byte)random.Next(0, 256);
        }
    };

    /// <summary>All slots rise from 0 to 255 and fall back within each <paramref name="period"/> ns.</summary>
    public static LevelSource Triangle(long period) => (time, target) =>
    {
        long phase = time % period * 510 / period;
        target.Fill((byte)(phase <= 255 ? phase : 510 - phase));
    };
}
