namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>Whole frames out of a history, where single slots would be read again and again.</summary>
internal static class HistoryFrames
{
    /// <summary>The 512 levels in force at some samples.</summary>
    /// <param name="history">The history.</param>
    /// <param name="samples">Samples in rising order; before 0 counts as 0.</param>
    public static byte[][] At(SlotHistory history, int[] samples)
    {
        byte[][] frames = [.. samples.Select(_ => new byte[SlotHistory.SlotCount])];
        for (int slot = 0; slot < SlotHistory.SlotCount; slot++)
        {
            SlotChanges changes = history[slot];
            int place = 0;
            int sample = 0;
            int filled = 0;
            byte now = 0;
            while (filled < samples.Length && changes.Next(ref place, ref sample, out byte level))
            {
                while (filled < samples.Length && Math.Max(samples[filled], 0) < sample)
                {
                    frames[filled++][slot] = now;
                }

                now = level;
            }

            for (; filled < samples.Length; filled++)
            {
                frames[filled][slot] = now;
            }
        }

        return frames;
    }
}
