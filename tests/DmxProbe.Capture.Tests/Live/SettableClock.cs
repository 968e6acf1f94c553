namespace DmxProbe.Capture.Tests.Live;

/// <summary>A clock that the test moves, and can set like a person sets a computer's.</summary>
internal sealed class SettableClock : TimeProvider
{
    private long _elapsed;
    private long _set;

    public override long TimestampFrequency => 10_000_000;

    public void Advance(TimeSpan by) => Interlocked.Add(ref _elapsed, by.Ticks);

    public void Set(TimeSpan by) => Interlocked.Add(ref _set, by.Ticks);

    public override long GetTimestamp() => Interlocked.Read(ref _elapsed);

    public override DateTimeOffset GetUtcNow() =>
        new(DateTime.UnixEpoch.Ticks + 1_700_000_000_0000000L + Interlocked.Read(ref _elapsed) + Interlocked.Read(ref _set), TimeSpan.Zero);
}
