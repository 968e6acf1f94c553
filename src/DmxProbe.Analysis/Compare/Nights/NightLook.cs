namespace DmxProbe.Analysis.Compare.Nights;

/// <summary>The levels of a stream once a change had settled.</summary>
/// <param name="Change">Number of the change.</param>
/// <param name="Levels">Slot 1 first.</param>
/// <param name="Moved">Which slots moved in it, a bit a slot.</param>
/// <param name="Running">Slots that were moving all the time and have no level to compare, a bit a slot; null: none.</param>
internal sealed record NightLook(int Change, byte[] Levels, ulong[] Moved, ulong[]? Running)
{
    /// <summary>Whether a bit is set.</summary>
    public static bool Has(ulong[]? bits, int slot) => bits is not null && (bits[slot >> 6] >> (slot & 63) & 1) != 0;

    /// <summary>Sets a bit.</summary>
    public static void Set(ulong[] bits, int slot) => bits[slot >> 6] |= 1UL << (slot & 63);
}
