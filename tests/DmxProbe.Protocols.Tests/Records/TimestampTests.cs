using System.Numerics;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Protocols.Tests.Records;

public class TimestampTests
{
    private static readonly long[] Interesting =
        [long.MinValue, long.MinValue + 1, -1_000_000_000, -1, 0, 1, 1_000_000_000, long.MaxValue - 1, long.MaxValue];

    // Against whole numbers without bounds.
    [Fact]
    public void Differences_and_sums_are_exact_or_stop_at_the_ends_of_the_range()
    {
        foreach (long left in Interesting)
        {
            foreach (long right in Interesting)
            {
                long sum = Clamp((BigInteger)left + right);
                long difference = Clamp((BigInteger)left - right);
                Timestamp moment = Timestamp.FromUnixNanoseconds(left);
                Duration duration = Duration.FromNanoseconds(right);
                Assert.Equal(difference, (moment - Timestamp.FromUnixNanoseconds(right)).Nanoseconds);
                Assert.Equal(difference, (moment - duration).UnixNanoseconds);
                Assert.Equal(sum, (moment + duration).UnixNanoseconds);
                Assert.Equal(sum, (Duration.FromNanoseconds(left) + duration).Nanoseconds);
                Assert.Equal(difference, (Duration.FromNanoseconds(left) - duration).Nanoseconds);
            }
        }
    }

    [Theory]
    [InlineData(0, "1970-01-01T00:00:00.000000000Z")]
    [InlineData(-1, "1969-12-31T23:59:59.999999999Z")]
    [InlineData(1_773_517_267_000_000_001, "2026-03-14T19:41:07.000000001Z")]
    [InlineData(long.MaxValue, "2262-04-11T23:47:16.854775807Z")]
    [InlineData(long.MinValue, "1677-09-21T00:12:43.145224192Z")]
    public void A_moment_is_written_with_nine_decimals(long nanoseconds, string text) =>
        Assert.Equal(text, Timestamp.FromUnixNanoseconds(nanoseconds).ToString());

    private static long Clamp(BigInteger value) =>
        (long)BigInteger.Min(BigInteger.Max(value, long.MinValue), long.MaxValue);
}
