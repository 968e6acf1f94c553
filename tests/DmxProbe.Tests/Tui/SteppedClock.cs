namespace DmxProbe.Tests.Tui;

/// <summary>A clock that goes on a second each time somebody looks, from the evening of the soundcheck.</summary>
internal sealed class SteppedClock : TimeProvider
{
    private DateTimeOffset _now = new(2026, 3, 14, 19, 50, 0, TimeSpan.Zero);

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => _now += TimeSpan.FromSeconds(1);
}
