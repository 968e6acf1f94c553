using DmxProbe.Analysis.OverTime;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.OverTime;

public class TimeBinsTests
{
    private static readonly Timestamp Start = Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000);

    [Fact]
    public void Spans_double_when_the_recording_outgrows_them_and_never_exceed_their_number()
    {
        TimeBins bins = new();
        int merges = 0;
        bins.OnMerge(() => merges++);
        for (int second = 0; second < 4 * 3600; second++)
        {
            Assert.InRange(bins.Of(Start + Duration.FromSeconds(second)), 0, TimeBins.Most - 1);
        }

        Assert.Equal(64.0, bins.Width.TotalSeconds);
        Assert.Equal(7, merges);
        Assert.Equal(225, bins.Count);
    }

    [Fact]
    public void A_moment_before_the_first_belongs_to_the_first_span()
    {
        TimeBins bins = new();
        Assert.Equal(0, bins.Of(Start));
        Assert.Equal(0, bins.Of(Start - Duration.FromSeconds(9)));
        Assert.Equal(1, bins.Count);
    }

    [Fact]
    public void The_longest_time_there_is_is_still_spans()
    {
        TimeBins bins = new();
        _ = bins.Of(Timestamp.FromUnixNanoseconds(0));
        Assert.InRange(bins.Of(Timestamp.FromUnixNanoseconds(long.MaxValue)), 0, TimeBins.Most - 1);
    }
}
