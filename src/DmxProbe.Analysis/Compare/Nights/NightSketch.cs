using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>
/// What a cue moves and to where, small enough to hold every cue of a night against every cue of another: the least hash in
/// each of 128 buckets. Two sketches agree in about the share of buckets that the two sets have in common.
/// </summary>
internal static class NightSketch
{
    /// <summary>Buckets of a sketch.</summary>
    public const int Buckets = 128;

    private const int LevelStep = 8; // a level that is a little off is the same cue

    /// <summary>Slots of a block of a look.</summary>
    public const int BlockLength = 16;

    /// <summary>Takes in a slot that moved.</summary>
    public static void Add(uint[] sketch, UniverseId universe, int slot, byte level)
    {
        ulong hash = unchecked((ulong)((((int)universe.Protocol * 70_000L) + universe.Number) * 512) + (ulong)slot);
        Add(sketch, Mixed(unchecked((hash << 5) | (uint)(level / LevelStep))));
    }

    /// <summary>Takes in a number that <see cref="Block"/> made.</summary>
    public static void Add(uint[] sketch, ulong hash)
    {
        uint value = (uint)(hash >> 8 & uint.MaxValue) | 1; // 0 is an empty bucket
        ref uint bucket = ref sketch[(int)(hash & (Buckets - 1))];
        bucket = bucket == 0 || value < bucket ? value : bucket;
    }

    /// <summary>A number for where the slots of a block stand; 0 where all stand at 0.</summary>
    /// <param name="universe">The universe.</param>
    /// <param name="block">Number of the block.</param>
    /// <param name="levels">Its slots.</param>
    /// <param name="skipped">Slots that do not count, a bit each.</param>
    public static ulong Block(UniverseId universe, int block, ReadOnlySpan<byte> levels, uint skipped)
    {
        ulong hash = unchecked((ulong)((((int)universe.Protocol * 70_000L) + universe.Number) * 512) + (ulong)block);
        bool any = false;
        for (int slot = 0; slot < levels.Length; slot++)
        {
            byte level = (skipped >> slot & 1) != 0 ? (byte)0 : levels[slot];
            any |= level != 0;
            hash = unchecked((hash ^ (uint)(level / LevelStep)) * 1099511628211);
        }

        return any ? Mixed(hash) : 0;
    }

    private static ulong Mixed(ulong hash)
    {
        hash = unchecked(hash * 0x9E3779B97F4A7C15);
        hash = unchecked((hash ^ (hash >> 29)) * 0xBF58476D1CE4E5B9);
        return hash ^ (hash >> 32);
    }

    /// <summary>About which share of two sets is in both, 0 to 1.</summary>
    public static double Alike(uint[] one, uint[] other)
    {
        int same = 0;
        int filled = 0;
        for (int i = 0; i < Buckets; i++)
        {
            filled += (one[i] | other[i]) == 0 ? 0 : 1;
            same += one[i] != 0 && one[i] == other[i] ? 1 : 0;
        }

        return filled == 0 ? 0 : (double)same / filled;
    }
}
