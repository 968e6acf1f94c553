using System.Globalization;

namespace DmxProbe.Protocols.Records;

/// <summary>A length of time in whole nanoseconds, 64 bit, signed: about 292 years either way.</summary>
public readonly record struct Duration : IComparable<Duration>
{
    private Duration(long nanoseconds) => Nanoseconds = nanoseconds;

    /// <summary>No time at all.</summary>
    public static Duration Zero => default;

    /// <summary>The longest duration that can be held.</summary>
    public static Duration MaxValue => new(long.MaxValue);

    /// <summary>The length in nanoseconds.</summary>
    public long Nanoseconds { get; }

    /// <summary>The length in microseconds, with its fraction.</summary>
    public double TotalMicroseconds => Nanoseconds / 1e3;

    /// <summary>The length in milliseconds, with its fraction.</summary>
    public double TotalMilliseconds => Nanoseconds / 1e6;

    /// <summary>The length in seconds, with its fraction.</summary>
    public double TotalSeconds => Nanoseconds / 1e9;

    /// <summary>Makes a duration of whole nanoseconds.</summary>
    public static Duration FromNanoseconds(long nanoseconds) => new(nanoseconds);

    /// <summary>Makes a duration of whole microseconds.</summary>
    public static Duration FromMicroseconds(long microseconds) => new(microseconds * 1_000);

    /// <summary>Makes a duration of whole milliseconds.</summary>
    public static Duration FromMilliseconds(long milliseconds) => new(milliseconds * 1_000_000);

    /// <summary>Makes a duration of seconds, rounded to the nearest nanosecond.</summary>
    public static Duration FromSeconds(double seconds) => new((long)Math.Round(seconds * 1e9));

    /// <summary>Adds two durations; the longest that can be held where the sum is longer.</summary>
    public static Duration operator +(Duration left, Duration right) =>
        new(Saturating.Add(left.Nanoseconds, right.Nanoseconds));

    /// <summary>Subtracts a duration; the longest that can be held where the difference is longer.</summary>
    public static Duration operator -(Duration left, Duration right) =>
        new(Saturating.Subtract(left.Nanoseconds, right.Nanoseconds));

    /// <summary>Multiplies by a whole number.</summary>
    public static Duration operator *(Duration left, long factor) => new(left.Nanoseconds * factor);

    /// <summary>Divides by a whole number, towards zero.</summary>
    public static Duration operator /(Duration left, long divisor) => new(left.Nanoseconds / divisor);

    /// <summary>Shorter than.</summary>
    public static bool operator <(Duration left, Duration right) => left.Nanoseconds < right.Nanoseconds;

    /// <summary>Longer than.</summary>
    public static bool operator >(Duration left, Duration right) => left.Nanoseconds > right.Nanoseconds;

    /// <summary>Not longer than.</summary>
    public static bool operator <=(Duration left, Duration right) => left.Nanoseconds <= right.Nanoseconds;

    /// <summary>Not shorter than.</summary>
    public static bool operator >=(Duration left, Duration right) => left.Nanoseconds >= right.Nanoseconds;

    /// <inheritdoc/>
    public int CompareTo(Duration other) => Nanoseconds.CompareTo(other.Nanoseconds);

    /// <summary>The length in seconds with nine decimals, for logs and test output.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{TotalSeconds:0.000000000} s");
}
