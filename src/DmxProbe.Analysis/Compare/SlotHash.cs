namespace DmxProbe.Analysis.Compare;

/// <summary>A number that stands for slots, padded with 0 or cut to a count (FNV-1a, 64 bit).</summary>
internal static class SlotHash
{
    public static ulong Of(ReadOnlySpan<byte> slots, int count)
    {
        ulong hash = 14695981039346656037;
        for (int slot = 0; slot < count; slot++)
        {
            hash = unchecked((hash ^ (slot < slots.Length ? slots[slot] : 0ul)) * 1099511628211);
        }

        return hash;
    }
}
