namespace DmxProbe.Testing.Lines;

/// <summary>
/// Samples of a full universe sent without pause, line in bit 0 and inverse in bit 1: break 176 us, mark after break 12 us,
/// 512 slots of which half are 0, a quarter FFh and a quarter anything. For measuring speed; says nothing about timing.
/// </summary>
public static class BusyLine
{
    /// <summary>Whole seconds of samples.</summary>
    public static byte[] Samples(long rate, int seconds)
    {
        byte[] samples = new byte[rate * seconds];
        Random random = new(512);
        double at = 0;
        while (at < samples.Length)
        {
            Put(samples, ref at, 176, 0, rate);
            Put(samples, ref at, 12, 1, rate);
            for (int slot = 0; slot <= 512; slot++)
            {
                int value = slot == 0 ? 0 : random.Next(4) switch { 0 => 255, 1 => random.Next(256), _ => 0 };
                Put(samples, ref at, 4, 0, rate);
                for (int bit = 0; bit < 8; bit++)
                {
                    Put(samples, ref at, 4, (value >> bit) & 1, rate);
                }

                Put(samples, ref at, 8, 1, rate);
            }
        }

        return samples;
    }

    private static void Put(byte[] samples, ref double at, double microseconds, int level, long rate)
    {
        double end = at + (microseconds * rate / 1e6);
        int from = (int)Math.Min(samples.Length, Math.Round(at));
        samples.AsSpan(from, (int)Math.Min(samples.Length, Math.Round(end)) - from).Fill((byte)(level == 1 ? 1 : 2));
        at = end;
    }
}
