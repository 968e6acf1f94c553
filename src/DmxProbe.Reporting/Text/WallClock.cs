using System.Globalization;

using DmxProbe.Protocols.Records;

namespace DmxProbe.Reporting.Text;

/// <summary>
/// Prints moments of one answer as a clock on the wall shows them. The date stands once, where the answer says which
/// span it covers; beside each time only where the span covers more than one day.
/// </summary>
public sealed class WallClock
{
    private readonly TimeZoneInfo _zone;
    private readonly bool _severalDays;
    private readonly bool _isDated;

    /// <summary>Makes a clock for an answer.</summary>
    /// <param name="zone">The zone to print in.</param>
    /// <param name="first">The first moment of the answer.</param>
    /// <param name="last">The last moment of the answer.</param>
    public WallClock(TimeZoneInfo zone, Timestamp? first, Timestamp? last)
    {
        _zone = zone;
        _isDated = first is Timestamp begin && !IsUndated(begin);
        _severalDays = first is Timestamp from && last is Timestamp to && Local(from).Date != Local(to).Date;
    }

    /// <summary>The time of day to a millisecond; in a dated answer a moment of a recording without a date is the seconds from its start.</summary>
    public string Time(Timestamp moment) => _isDated && IsUndated(moment)
        ? string.Create(CultureInfo.InvariantCulture, $"{moment.UnixNanoseconds / 1e9:0.000} s of the recording")
        : Local(moment).ToString(_severalDays ? "yyyy-MM-dd HH:mm:ss.fff" : "HH:mm:ss.fff", CultureInfo.InvariantCulture);

    /// <summary>A span with its date, its zone and its length.</summary>
    public string Span(Timestamp from, Timestamp to)
    {
        DateTime start = Local(from);
        DateTime end = Local(to);
        string until = end.ToString(start.Date == end.Date ? "HH:mm:ss" : "yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture);
        return $"{start.ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture)}{(from == to ? "" : " to " + until)} {ZoneName(from)}";
    }

    /// <summary>Whether a moment is of a recording that does not say when it was made: it counts from 0.</summary>
    public static bool IsUndated(Timestamp moment) => moment.UnixNanoseconds is >= 0 and < 86_400_000_000_000;

    private string ZoneName(Timestamp moment)
    {
        if (_zone == TimeZoneInfo.Utc)
        {
            return "UTC";
        }

        TimeSpan offset = _zone.GetUtcOffset(Utc(moment));
        return string.Create(
            CultureInfo.InvariantCulture,
            $"local time (UTC{(offset < TimeSpan.Zero ? '-' : '+')}{offset:hh\\:mm})");
    }

    private DateTime Local(Timestamp moment) => TimeZoneInfo.ConvertTimeFromUtc(Utc(moment), _zone);

    private static DateTime Utc(Timestamp moment)
    {
        (long ticks, long rest) = Math.DivRem(moment.UnixNanoseconds, 100);
        return DateTime.UnixEpoch.AddTicks(rest < 0 ? ticks - 1 : ticks);
    }
}
