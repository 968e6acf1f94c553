using DmxProbe.Protocols.Records;
using DmxProbe.Reporting.Text;

namespace DmxProbe.Tests.Cli.Text;

public class FiguresTests
{
    [Theory]
    [InlineData(0.0, "0")]
    [InlineData(0.001, "0.001")]
    [InlineData(0.5, "0.50")]
    [InlineData(43.94, "43.9")]
    [InlineData(-2.345, "-2.35")]
    [InlineData(12_000.0, "12,000")]
    [InlineData(double.NaN, "-")]
    [InlineData(null, "-")]
    public void A_figure_keeps_about_three_digits(double? value, string expected) => Assert.Equal(expected, Figures.Number(value));

    [Theory]
    [InlineData(1, "1 ns")]
    [InlineData(88_000, "88.0 us")]
    [InlineData(22_700_000, "22.7 ms")]
    [InlineData(1_200_000_000, "1.20 s")]
    [InlineData(59_941_000_000, "59.9 s")]
    [InlineData(754_000_000_000, "12 min 34 s")]
    [InlineData(3_720_000_000_000, "1 h 02 min")]
    public void A_time_comes_in_the_unit_that_fits(long nanoseconds, string expected) =>
        Assert.Equal(expected, Figures.Time(Duration.FromNanoseconds(nanoseconds)));

    [Theory]
    [InlineData(new[] { 1, 2, 3, 4, 7 }, "1 to 4, 7")]
    [InlineData(new[] { 1, 2, 9 }, "1, 2, 9")]
    [InlineData(new[] { 1, 3, 5, 7, 9 }, "1, 3, 5 and 2 more")]
    [InlineData(new int[0], "")]
    public void Numbers_in_a_row_are_a_range(int[] numbers, string expected) => Assert.Equal(expected, Figures.Ranges(numbers, 3));

    [Fact]
    public void A_span_over_midnight_has_the_date_at_each_time()
    {
        Timestamp late = Timestamp.FromUnixNanoseconds(1_773_532_799_500_000_000); // 2026-03-14 23:59:59.5 UTC
        WallClock clock = new(TimeZoneInfo.Utc, late, late + Duration.FromSeconds(1));
        Assert.Equal("2026-03-14 23:59:59.500", clock.Time(late));
        Assert.Equal("2026-03-14 23:59:59 to 2026-03-15 00:00:00 UTC", clock.Span(late, late + Duration.FromSeconds(1)));
    }

    [Theory]
    [InlineData(-1, "1969-12-31 23:59:59 UTC")]
    [InlineData(0, "1970-01-01 00:00:00 UTC")]
    public void Times_around_1970_are_printed_rightly(long nanoseconds, string expected)
    {
        Timestamp moment = Timestamp.FromUnixNanoseconds(nanoseconds);
        Assert.Equal(expected, new WallClock(TimeZoneInfo.Utc, moment, moment).Span(moment, moment));
    }

    [Fact]
    public void The_earliest_and_the_latest_time_can_be_printed()
    {
        foreach (Timestamp moment in new[] { Timestamp.MinValue, Timestamp.MaxValue })
        {
            Assert.NotEmpty(new WallClock(TimeZoneInfo.Utc, moment, moment).Time(moment));
        }
    }
}
