namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>
/// Sums over the pulses inside characters, from which bit time and skew follow: a low pulse of n bits lasts n bits plus
/// the skew of its two edges, a high one n bits less it.
/// </summary>
internal struct PulseWidths
{
    /// <summary>Ticks of low pulses.</summary>
    public long LowTicks;

    /// <summary>Their bits.</summary>
    public long LowBits;

    /// <summary>How many.</summary>
    public int Lows;

    /// <summary>Ticks of high pulses between low ones.</summary>
    public long HighTicks;

    /// <summary>Their bits.</summary>
    public long HighBits;

    /// <summary>How many.</summary>
    public int Highs;

    /// <summary>Edges that stand between bits.</summary>
    public int OffGrid;

    /// <summary>Pulses too short for a bit, left out.</summary>
    public int Glitches;

    /// <summary>Mean bit time in ticks; NaN without pulses. Without high pulses the skew cannot be told apart and goes into it.</summary>
    public readonly double Bit
    {
        get
        {
            if (LowBits == 0)
            {
                return double.NaN;
            }

            return Highs == 0
                ? (double)LowTicks / LowBits
                : ((double)LowTicks * Highs + (double)HighTicks * Lows) / ((double)LowBits * Highs + (double)HighBits * Lows);
        }
    }

    /// <summary>Single low bit less single high bit, in ticks; NaN without high pulses.</summary>
    public readonly double Skew => Highs == 0 || Lows == 0 ? double.NaN : 2 * (LowTicks - LowBits * Bit) / Lows;

    /// <summary>How finely <see cref="Bit"/> is known, in samples: one sample for each pulse, spread over the bits.</summary>
    public readonly double BitResolution => LowBits == 0 ? double.NaN : Math.Sqrt(Lows + Highs) / (LowBits + HighBits);
}
