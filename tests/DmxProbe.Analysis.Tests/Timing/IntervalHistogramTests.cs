using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Timing;

public sealed class IntervalHistogramTests
{
    [Fact]
    public void Bars_hold_every_interval_between_the_shortest_and_the_longest()
    {
        Random random = new(3);
        for (int turn = 0; turn < 200; turn++)
        {
            IntervalHistogram histogram = new();
            int count = random.Next(1, 50);
            for (int i = 0; i < count; i++)
            {
                histogram.Add(Duration.FromNanoseconds((long)Math.Pow(10, random.NextDouble() * 12)));
            }

            IReadOnlyList<DistributionBar> bars = histogram.Bars(16);
            IntervalStatistics figures = histogram.Snapshot()!;
            Assert.InRange(bars.Count, 1, 16);
            Assert.Equal(count, bars.Sum(bar => bar.Count));
            Assert.Equal(figures.Minimum.TotalMilliseconds, bars[0].From, 9);
            Assert.Equal(figures.Maximum.TotalMilliseconds, bars[^1].To, 9);
            Assert.All(bars.Zip(bars.Skip(1)), pair => Assert.Equal(pair.First.To, pair.Second.From));
        }
    }

    [Fact]
    public void No_interval_no_bar() => Assert.Empty(new IntervalHistogram().Bars(16));
}
