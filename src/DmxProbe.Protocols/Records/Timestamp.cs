using System.Globalization;

namespace DmxProbe.Protocols.Records;

/// <summary>A moment as whole nanoseconds since 1970-01-01 00:00:00 UTC, 64 bit, signed (years 1678 to 2262).</summary>
public readonly record struct Timestamp : IComparable<Timestamp>
{
    private Timestamp(long unixNanoseconds) => UnixNanoseconds = unixNanoseconds;

    /// <summary>The earliest moment that can be held; used as "never yet".</summary>
    public static Timestamp MinValue => new(long.MinValue);

    /// <summary>The latest moment that can be held.</summary>
    public static Timestamp MaxValue => new(long.MaxValue);

    /// <summary>Nanoseconds since 1970-01-01 00:00:00 UTC.</summary>
    public long UnixNanoseconds { get; }

    /// <summary>Makes a moment from nanoseconds since 1970.</summary>
    public static Timestamp FromUnixNanoseconds(long unixNanoseconds) => new(unixNanoseconds);

    /// <summary>The duration between two moments; the longest that can be held where they lie further apart.</summary>
    public static Duration operator -(Timestamp left, Timestamp right) =>
        Duration.FromNanoseconds(Saturating.Subtract(left.UnixNanoseconds, right.UnixNanoseconds));

    /// <summary>A moment later by a duration; at most <see cref="MaxValue"/>.</summary>
    public static Timestamp operator +(Timestamp left, Duration right) =>
        new(Saturating.Add(left.UnixNanoseconds, right.Nanoseconds));

    /// <summary>A moment earlier by a duration; at least <see cref="MinValue"/>.</summary>
    public static Timestamp operator -(Timestamp left, Duration right) =>
        new(Saturating.Subtract(left.UnixNanoseconds, right.Nanoseconds));

    /// <summary>Earlier than.</summary>
    public static bool operator <(Timestamp left, Timestamp right) => left.UnixNanoseconds < right.UnixNanoseconds;

    /// <summary>Later than.</summary>
    public static bool operator >(Timestamp left, Timestamp right) => left.UnixNanoseconds > right.UnixNanoseconds;

    /// <summary>Not later than.</summary>
    public static bool operator <=(Timestamp left, Timestamp right) => left.UnixNanoseconds <= right.UnixNanoseconds;

    /// <summary>Not earlier than.</summary>
    public static bool operator >=(Timestamp left, Timestamp right) => left.UnixNanoseconds >= right.UnixNanoseconds;

    /// <inheritdoc/>
    public int CompareTo(Timestamp other) => UnixNanoseconds.CompareTo(other.UnixNanoseconds);

    /// <summary>The moment in ISO 8601, UTC, nine decimals: <c>2026-03-14T19:41:07.000000000Z</c>.</summary>
    public override string ToString()
    {
        (long seconds, long fraction) = Math.DivRem(UnixNanoseconds, 1_000_000_000);
        if (fraction < 0)
        {
            seconds--;
            fraction += 1_000_000_000;
        }

        DateTime whole = DateTime.UnixEpoch.AddSeconds(seconds);
        return string.Create(CultureInfo.InvariantCulture, $"{whole:yyyy-MM-ddTHH:mm:ss}.{fraction:000000000}Z");
    }
}
