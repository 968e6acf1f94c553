using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>
/// The clock of a line recording, and the decoder's thresholds in its ticks, derived once. Thresholds decide what a pulse
/// is; limits (what it should be) are elsewhere.
/// </summary>
internal sealed class LineRate
{
    /// <summary>Least samples to a bit with which characters can be told.</summary>
    public const double FewestSamplesPerBit = 1.5;

    /// <summary>Bits of a character: start, eight data, two stop.</summary>
    public const int BitsPerCharacter = 11;

    private const double BitSeconds = 4e-6;
    private const double GlitchBits = 0.25;
    private const double ShortestBreakBits = 13;
    private const double CertainBreakBits = 22;

    /// <summary>Makes the thresholds.</summary>
    /// <param name="ticksPerSecond">Ticks per second, 1 or more.</param>
    /// <param name="resolution">One sample period; zero: one tick.</param>
    public LineRate(long ticksPerSecond, Duration resolution)
    {
        TicksPerSecond = ticksPerSecond;
        MicrosecondsPerTick = 1e6 / ticksPerSecond;
        BitTicks = BitSeconds * ticksPerSecond;
        SampleTicks = Math.Max(1, resolution.TotalSeconds * ticksPerSecond);
        Inverse = (long)Math.Round((1L << 32) / BitTicks);
        CharacterTicks = (long)Math.Ceiling((BitsPerCharacter + 1) * BitTicks);
        GlitchTicks = (long)Math.Ceiling(GlitchBits * BitTicks);
        ShortestBreakTicks = (long)Math.Ceiling(ShortestBreakBits * BitTicks);
        CertainBreakTicks = (long)Math.Floor(CertainBreakBits * BitTicks - 2 * SampleTicks);
        OffGrid = (long)((0.2 + 0.5 * SampleTicks / BitTicks) * (1L << 32));
    }

    /// <summary>Ticks per second.</summary>
    public long TicksPerSecond { get; }

    /// <summary>Microseconds of a tick.</summary>
    public double MicrosecondsPerTick { get; }

    /// <summary>Ticks of a nominal bit of 4 us.</summary>
    public double BitTicks { get; }

    /// <summary>Ticks of one sample.</summary>
    public double SampleTicks { get; }

    /// <summary>2^32 / <see cref="BitTicks"/>.</summary>
    public long Inverse { get; }

    /// <summary>Ticks after which every bit of a character has passed.</summary>
    public long CharacterTicks { get; }

    /// <summary>A pulse shorter than this is none: a quarter of a bit.</summary>
    public long GlitchTicks { get; }

    /// <summary>A space this long may be a break: 13 bits. A character with its stop bits missing is 11.</summary>
    public long ShortestBreakTicks { get; }

    /// <summary>A space this long is a break whatever stands around it: 88 us, which every receiver must take for one.</summary>
    public long CertainBreakTicks { get; }

    /// <summary>An edge further than this from the grid of bits (2^32 = one bit) is off it.</summary>
    public long OffGrid { get; }

    /// <summary>False where the recording is too coarse to tell bits.</summary>
    public bool IsFineEnough => BitTicks / SampleTicks >= FewestSamplesPerBit;

    /// <summary>Microseconds of a number of ticks.</summary>
    public double Microseconds(double ticks) => ticks * MicrosecondsPerTick;

    /// <summary>Nanoseconds of a number of ticks, exact to half a nanosecond whatever the clock.</summary>
    public Duration Nanoseconds(long ticks) =>
        Duration.FromNanoseconds((long)((Int128)ticks * 1_000_000_000 / TicksPerSecond));
}
