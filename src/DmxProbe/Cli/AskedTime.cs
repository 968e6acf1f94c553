using System.Globalization;

using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>A moment as a person gives it: seconds from the first record, a time of day, or ISO 8601.</summary>
internal sealed class AskedTime
{
    private static readonly string[] TimesOfDay = ["H:mm", "H:mm:ss", "H:mm:ss.FFFFFFF"];
    private readonly double? _seconds;
    private readonly TimeSpan? _ofDay;
    private readonly Timestamp? _moment;
    private readonly TimeZoneInfo _zone;

    private AskedTime(double? seconds, TimeSpan? ofDay, Timestamp? moment, TimeZoneInfo zone)
    {
        _seconds = seconds;
        _ofDay = ofDay;
        _moment = moment;
        _zone = zone;
    }

    /// <summary>The zone in which it was given.</summary>
    public TimeZoneInfo Zone => _zone;

    /// <summary>A moment that is known.</summary>
    public static AskedTime Of(Timestamp moment, TimeZoneInfo zone) => new(null, null, moment, zone);

    /// <summary>Reads what was given after <paramref name="option"/>.</summary>
    /// <param name="text">What was given.</param>
    /// <param name="zone">Of times of day.</param>
    /// <param name="option">Named in the sentence.</param>
    /// <param name="zero">What seconds are counted from.</param>
    /// <param name="more">What else may stand there, for the sentence.</param>
    /// <exception cref="UsageException">It is no time.</exception>
    public static AskedTime Parse(string text, TimeZoneInfo zone, string option, string zero = "the first record", string more = "")
    {
        string plain = text.Trim();
        if (double.TryParse(plain.TrimEnd('s'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double seconds) && seconds < 1e9)
        {
            return new AskedTime(seconds, null, null, zone);
        }

        if (DateTime.TryParseExact(plain, TimesOfDay, CultureInfo.InvariantCulture, DateTimeStyles.NoCurrentDateDefault, out DateTime ofDay))
        {
            return new AskedTime(null, ofDay.TimeOfDay, null, zone);
        }

        if (plain.Contains('-', StringComparison.Ordinal) && DateTimeOffset.TryParse(plain, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset moment) && moment.Year is > 1700 and < 2250)
        {
            return new AskedTime(null, null, Of(moment.UtcDateTime), zone);
        }

        throw new UsageException($"{option}: expected seconds from {zero} (12.5), a time of day (19:41:07) or ISO 8601 (2026-03-14T19:41:07Z){more}, found '{text}'");
    }

    /// <summary>The moment, once the first record is known. A time of day before the first record's is of the next day.</summary>
    public Timestamp In(Timestamp first)
    {
        if (_moment is Timestamp moment)
        {
            return moment;
        }

        if (_seconds is double seconds)
        {
            return first + Duration.FromSeconds(seconds);
        }

        DateTime start = TimeZoneInfo.ConvertTimeFromUtc(DateTime.UnixEpoch.AddTicks(first.UnixNanoseconds / 100), _zone);
        DateTime asked = start.Date + _ofDay!.Value;

        // Times are printed to a millisecond: what was read off the screen must not fall before the first record.
        asked = asked < start.AddMilliseconds(-1) ? asked.AddDays(1) : asked;
        return Of(TimeZoneInfo.ConvertTimeToUtc(DateTime.SpecifyKind(asked, DateTimeKind.Unspecified), _zone));
    }

    private static Timestamp Of(DateTime utc) => Timestamp.FromUnixNanoseconds((utc - DateTime.UnixEpoch).Ticks * 100);
}
