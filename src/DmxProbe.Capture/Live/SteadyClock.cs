using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Live;

/// <summary>
/// The time of a live capture. It follows the computer's clock and its slow corrections, but when somebody sets the clock
/// (by more than 50 ms at once) the capture's time goes on as if nothing had happened: else every sender would seem to have
/// been silent, or to have sent in the past. Used by one thread.
/// </summary>
internal sealed class SteadyClock
{
    private static readonly long LeastStep = Duration.FromMilliseconds(50).Nanoseconds;
    private static readonly long LongestQueued = Duration.FromSeconds(10).Nanoseconds;
    private static readonly long LeastSleep = Duration.FromSeconds(1).Nanoseconds;

    private readonly TimeProvider _clock;
    private readonly Func<long> _asleep;
    private readonly long _timestampZero;
    private long _lastOffset;
    private long _lastAsleep;
    private long _correction;
    private long _correctionBefore;
    private long _now;

    /// <summary>Starts it.</summary>
    /// <param name="clock">The clock and the counter that nobody sets.</param>
    /// <param name="asleep">Nanoseconds this computer has slept in all, which that counter leaves out; null where it is not known.</param>
    public SteadyClock(TimeProvider clock, Func<long>? asleep = null)
    {
        _clock = clock;
        _asleep = asleep ?? (() => 0);
        _timestampZero = clock.GetTimestamp();
        _lastAsleep = _asleep();
        _lastOffset = Utc() - Elapsed() - _lastAsleep;
        Observe();
    }

    /// <summary>Called with how far the clock was set, forward positive.</summary>
    public Action<Duration>? Stepped { get; set; }

    /// <summary>Called with how long the computer slept.</summary>
    public Action<Duration>? Slept { get; set; }

    /// <summary>The time now; looks for a step and for sleep.</summary>
    public Timestamp Now()
    {
        Observe();
        return Timestamp.FromUnixNanoseconds(_now);
    }

    /// <summary>The capture's time of a moment that the computer's clock stamped.</summary>
    /// <param name="stamped">Nanoseconds since 1970 as stamped.</param>
    public Timestamp Of(long stamped)
    {
        long time = stamped - _correction;
        if (time > _now + LeastStep || time < _now - LongestQueued)
        {
            // Stamped on the other side of a step, or just so late that the time now must be looked at first.
            Observe();
            time = stamped - _correction;
            long before = stamped - _correctionBefore;
            if (Math.Abs(before - _now) < Math.Abs(time - _now))
            {
                time = before;
            }
        }

        return Timestamp.FromUnixNanoseconds(time);
    }

    private void Observe()
    {
        long utc = Utc();
        long asleep = _asleep();
        long offset = utc - Elapsed() - asleep;
        long change = offset - _lastOffset;
        _lastOffset = offset;
        if (Math.Abs(change) > LeastStep)
        {
            _correctionBefore = _correction;
            _correction += change;
            Stepped?.Invoke(Duration.FromNanoseconds(change));
        }

        _now = utc - _correction;
        long slept = asleep - _lastAsleep;
        if (slept >= LeastSleep)
        {
            _lastAsleep = asleep;
            Slept?.Invoke(Duration.FromNanoseconds(slept));
        }
    }

    private long Utc() => (_clock.GetUtcNow().UtcTicks - DateTime.UnixEpoch.Ticks) * 100;

    private long Elapsed() => (long)((Int128)(_clock.GetTimestamp() - _timestampZero) * 1_000_000_000 / _clock.TimestampFrequency);
}
