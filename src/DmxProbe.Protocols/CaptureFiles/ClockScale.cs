using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>
/// The clock of a pcapng interface: turns its 64-bit count of units into nanoseconds since 1970, exactly where the unit
/// is a whole number of nanoseconds, else rounded down. Whole-number arithmetic only.
/// </summary>
internal readonly struct ClockScale
{
    private const byte BinaryFlag = 0x80;
    private const int FinestDecimal = 19;
    private const int FinestBinary = 63;
    private const ulong NanosecondsPerSecond = 1_000_000_000;

    // Units up to _fastTicks are multiplied by _fastUnit without overflow; all others take the long way.
    private readonly ulong _fastUnit;
    private readonly ulong _fastTicks;
    private readonly long _fastOffset;
    private readonly Int128 _offset;
    private readonly ulong _multiplier;
    private readonly ulong _divisor;
    private readonly int _shift;

    /// <summary>A clock.</summary>
    /// <param name="resolution">if_tsresol: one of <see cref="IsKnown"/>.</param>
    /// <param name="offsetSeconds">if_tsoffset.</param>
    public ClockScale(byte resolution, long offsetSeconds)
    {
        int exponent = resolution & ~BinaryFlag;
        bool binary = (resolution & BinaryFlag) != 0;
        _shift = binary ? exponent : 0;
        _multiplier = binary ? NanosecondsPerSecond : exponent < 9 ? PowerOfTen(9 - exponent) : 1;
        _divisor = binary || exponent <= 9 ? 1 : PowerOfTen(exponent - 9);
        _offset = (Int128)offsetSeconds * NanosecondsPerSecond;
        if (!binary && exponent <= 9 && _offset >= long.MinValue && _offset <= long.MaxValue)
        {
            _fastOffset = (long)_offset;
            _fastUnit = _multiplier;
            _fastTicks = (ulong)(long.MaxValue - Math.Max(_fastOffset, 0)) / _multiplier;
        }
    }

    /// <summary>Whether times can be computed for this if_tsresol: 10^-19 and 2^-63 are the finest.</summary>
    public static bool IsKnown(byte resolution) =>
        (resolution & ~BinaryFlag) <= ((resolution & BinaryFlag) != 0 ? FinestBinary : FinestDecimal);

    /// <summary>The smallest step, rounded up to whole nanoseconds.</summary>
    public Duration Resolution
    {
        get
        {
            UInt128 numerator = (UInt128)_multiplier;
            UInt128 denominator = (UInt128)_divisor << _shift;
            return Duration.FromNanoseconds((long)((numerator + denominator - 1) / denominator));
        }
    }

    /// <summary>The moment of a count of units.</summary>
    /// <returns>False when it lies outside the years 1678 to 2262.</returns>
    public bool TryGetTime(ulong ticks, out Timestamp time)
    {
        if (ticks <= _fastTicks && _fastUnit != 0)
        {
            time = Timestamp.FromUnixNanoseconds(unchecked(_fastOffset + (long)(ticks * _fastUnit)));
            return true;
        }

        Int128 nanoseconds = (Int128)(((UInt128)ticks * _multiplier / _divisor) >> _shift) + _offset;
        bool fits = nanoseconds >= long.MinValue && nanoseconds <= long.MaxValue;
        time = fits ? Timestamp.FromUnixNanoseconds((long)nanoseconds) : default;
        return fits;
    }

    private static ulong PowerOfTen(int exponent)
    {
        ulong power = 1;
        for (int i = 0; i < exponent; i++)
        {
            power *= 10;
        }

        return power;
    }
}
