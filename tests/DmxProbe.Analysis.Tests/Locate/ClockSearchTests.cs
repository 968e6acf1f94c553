using DmxProbe.Analysis.Locate;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Rigs;

namespace DmxProbe.Analysis.Tests.Locate;

/// <summary>Traces whose clock is not the capture's.</summary>
public class ClockSearchTests
{
    [Theory]
    [InlineData(0, false)]
    [InlineData(7.3, false)]
    [InlineData(-7.3, false)]
    [InlineData(4000, true)]
    public void A_trace_with_an_uncertain_clock_finds_its_moment_and_its_address(double off, bool unknown)
    {
        Rig rig = Rig.Draw(new RigOptions { Rgb = true }, 700_001);
        LightTrace trace = rig.Question.Trace!.Shifted(Duration.FromSeconds(off));
        LightTrace uncertain = new([.. trace.Times], [.. Enumerable.Range(0, 3).Select(channel => trace.Channel(channel).ToArray())])
        {
            Clock = unknown ? TraceClock.Unknown : new TraceClock(10),
        };

        LocateResult result = LocateInference.Run(rig.Question with { Trace = uncertain });

        Assert.Equal(LocateClaim.Found, result.Claim);
        Assert.Equal(rig.Truth, result.Best!.Hypothesis);
        Assert.InRange(result.ClockShiftSeconds, -off - 0.5, -off + 0.5);
    }

    [Fact]
    public void A_clock_that_is_further_off_than_it_says_brings_no_claim()
    {
        Rig rig = Rig.Draw(new RigOptions(), 700_002);
        LightTrace trace = rig.Question.Trace!.Shifted(Duration.FromSeconds(20));
        LightTrace uncertain = new([.. trace.Times], [[.. trace.Channel(0)]]) { Clock = new TraceClock(5) };
        LocateResult result = LocateInference.Run(rig.Question with { Trace = uncertain });
        Assert.True(result.Claim is LocateClaim.NotEnough or LocateClaim.NothingExplains, result.Claim.ToString());
    }

    [Theory]
    [InlineData("# clock: unknown", double.PositiveInfinity)]
    [InlineData("\uFEFF#clock:  within 2.5 s", 2.5)]
    public void The_clock_is_read_from_a_comment_and_written_as_one(string line, double seconds)
    {
        TraceClock? clock = TraceClock.Parse(line);
        Assert.Equal(seconds, clock!.Value.ErrorSeconds);
        Assert.Equal(clock, TraceClock.Parse(clock.Value.ToString()));
    }

    [Theory]
    [InlineData("# clock: within -3 s")]
    [InlineData("# clock: within NaN s")]
    [InlineData("# clock: within 3 min")]
    [InlineData("# made by hand")]
    [InlineData("#")]
    public void Other_comments_say_nothing_of_the_clock(string line) => Assert.Null(TraceClock.Parse(line));
}
