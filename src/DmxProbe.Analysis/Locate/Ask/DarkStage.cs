namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>The levels from which questions begin: intensities and colours at 0, everything else as it is held.</summary>
internal static class DarkStage
{
    /// <summary>512 levels of each universe.</summary>
    public static byte[][] Of(AskRig rig, AskSafety safety)
    {
        byte[][] levels = [.. rig.Held.Select(held => (byte[])held.Clone())];
        for (int u = 0; u < levels.Length; u++)
        {
            for (int slot = 1; slot <= SlotHistory.SlotCount; slot++)
            {
                if (safety.UseOf(u, slot) == SlotUse.Light || (safety.UseOf(u, slot) == SlotUse.Unpatched && safety.Cleared.Contains(u)))
                {
                    levels[u][slot - 1] = 0;
                }
            }
        }

        return levels;
    }

    /// <summary>The same with some slots raised.</summary>
    public static byte[][] With(IReadOnlyList<byte[]> dark, IEnumerable<RaisedSlot> raised)
    {
        byte[][] levels = [.. dark.Select(each => (byte[])each.Clone())];
        foreach (RaisedSlot slot in raised)
        {
            levels[slot.Universe][slot.Slot - 1] = slot.Level;
        }

        return levels;
    }
}
