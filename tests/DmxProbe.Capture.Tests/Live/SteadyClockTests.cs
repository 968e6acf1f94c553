using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Tests.Live;

public class SteadyClockTests
{
    private readonly SettableClock _computer = new();

    [Theory]
    [InlineData(3600)]
    [InlineData(-3600)]
    public void A_clock_set_by_an_hour_does_not_move_the_time_of_the_capture(int seconds)
    {
        List<Duration> steps = [];
        SteadyClock clock = new(_computer) { Stepped = steps.Add };
        Timestamp before = clock.Now();
        _computer.Advance(TimeSpan.FromMilliseconds(20));
        _computer.Set(TimeSpan.FromSeconds(seconds));
        Assert.Equal(Duration.FromMilliseconds(20), clock.Now() - before);
        Assert.Equal([Duration.FromSeconds(seconds)], steps);
    }

    [Theory]
    [InlineData(3600)]
    [InlineData(-3600)]
    public void Stamps_from_before_and_after_a_step_keep_their_order(int seconds)
    {
        SteadyClock clock = new(_computer);
        Timestamp start = clock.Now();
        long stampedBefore = start.UnixNanoseconds + 1_000_000;
        _computer.Advance(TimeSpan.FromMilliseconds(20));
        _computer.Set(TimeSpan.FromSeconds(seconds));
        long stampedAfter = start.UnixNanoseconds + 20_000_000 + (seconds * 1_000_000_000L);

        // Nobody has looked at the clock since it was set.
        Assert.Equal(Duration.FromMilliseconds(20), clock.Of(stampedAfter) - start);
        Assert.Equal(Duration.FromMilliseconds(1), clock.Of(stampedBefore) - start);
    }

    [Fact]
    public void Slow_corrections_are_followed()
    {
        SteadyClock clock = new(_computer) { Stepped = _ => Assert.Fail("no step") };
        Timestamp start = clock.Now();
        for (int i = 0; i < 1000; i++)
        {
            _computer.Advance(TimeSpan.FromMilliseconds(99));
            _computer.Set(TimeSpan.FromMilliseconds(1));
            _ = clock.Now();
        }

        Assert.Equal(Duration.FromSeconds(100), clock.Now() - start);
    }

    [Fact]
    public void Sleep_is_told_and_is_time_that_passed()
    {
        long asleep = 0;
        List<Duration> slept = [];
        SteadyClock clock = new(_computer, () => asleep) { Slept = slept.Add, Stepped = _ => Assert.Fail("no step") };
        Timestamp start = clock.Now();
        asleep = 600_000_000_000;
        _computer.Set(TimeSpan.FromSeconds(600)); // the clock of the wall went on
        Assert.Equal(Duration.FromSeconds(600), clock.Now() - start);
        Assert.Equal([Duration.FromSeconds(600)], slept);
    }
}
