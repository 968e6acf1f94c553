using DmxProbe.Protocols.Records;

namespace DmxProbe.Cli;

/// <summary>The time of a clock as records have it.</summary>
internal static class ClockTime
{
    /// <summary>The time now; a clock counts in steps of 100 ns.</summary>
    public static Timestamp Now(this TimeProvider clock) => Timestamp.FromUnixNanoseconds((clock.GetUtcNow() - DateTimeOffset.UnixEpoch).Ticks * 100);
}
