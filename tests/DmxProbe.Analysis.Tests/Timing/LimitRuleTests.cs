using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Timing;

namespace DmxProbe.Analysis.Tests.Timing;

public class LimitRuleTests
{
    private static readonly LimitRange Transmit = new(92, null, "test");
    private static readonly LimitRange Receive = new(88, null, "test");

    // Break limits 92 us to send and 88 us to accept (E1.11, secondary sources); one sample of 1 us as uncertainty.
    [Theory]
    [InlineData(100, 1, 100, LimitVerdict.Inside, "")]
    [InlineData(93.1, 1, 100, LimitVerdict.Inside, "")]
    [InlineData(93, 1, 100, LimitVerdict.Undecided, "transmit limit")]
    [InlineData(92.5, 1, 100, LimitVerdict.Undecided, "transmit limit")]
    [InlineData(91.5, 1, 100, LimitVerdict.Undecided, "transmit limit")]
    [InlineData(90, 1, 100, LimitVerdict.OutsideTransmit, "")]
    [InlineData(88.5, 1, 100, LimitVerdict.Undecided, "receive limit")]
    [InlineData(86, 1, 100, LimitVerdict.OutsideReceive, "")]
    [InlineData(92, 0, 100, LimitVerdict.Inside, "")]
    [InlineData(91, 0, 100, LimitVerdict.OutsideTransmit, "")]
    [InlineData(100, 1, 2, LimitVerdict.Undecided, "too few measurements")]
    public void A_figure_is_outside_only_by_more_than_it_can_be_wrong(
        double least, double uncertainty, long count, LimitVerdict verdict, string against)
    {
        Assert.Equal(verdict, LimitRule.Judge(least, least + 5, count, uncertainty, Transmit, Receive, out string found));
        Assert.Equal(against, found);
    }

    [Theory]
    [InlineData(0, LimitVerdict.Inside)]
    [InlineData(-0.9, LimitVerdict.Inside)]
    [InlineData(-1.1, LimitVerdict.OutsideTransmit)]
    public void A_limit_of_zero_is_met_as_soon_as_zero_lies_within_the_uncertainty(double least, LimitVerdict verdict) =>
        Assert.Equal(verdict, LimitRule.Judge(least, 5, 100, 1, new LimitRange(0, 1e6, "test"), null, out _));

    [Fact]
    public void The_ends_of_a_range_may_be_known_unequally_well()
    {
        LimitRange limit = new(1204, 1e6, "test");
        Assert.Equal(LimitVerdict.Inside, LimitRule.Judge(1210, 1, 22_000, 3, 100, limit, null, out _));
        Assert.Equal(LimitVerdict.Undecided, LimitRule.Judge(1210, 1, 999_950, 101, 100, limit, null, out _));
    }

    [Fact]
    public void Without_limits_everything_is_inside_and_unseen_shares_follow_the_rule_of_three()
    {
        Assert.Equal(LimitVerdict.Inside, LimitRule.Judge(0, 1e9, 1, 1, null, null, out _));
        Assert.Equal(0.01, LimitRule.UnseenShare(300), 9); // handbook rule: 3/n at 95 %
        Assert.Equal(1, LimitRule.UnseenShare(2));
    }

    // standards-facts A5: computed from E1.11 figures of secondary sources, bit time 3.92 us; the floor is 1204 us.
    [Theory]
    [InlineData(512, 44.995)]
    [InlineData(24, 830.56)]
    [InlineData(0, 830.56)]
    public void A_line_carries_at_most_so_many_frames_a_second(int slots, double hertz) =>
        Assert.Equal(hertz, NetworkLimits.LineRateHz(slots), 0.005);

    // E1.31-2018 6.6.2 asks for 800 to 1000 ms; more often does no harm, so it is no verdict.
    [Fact]
    public void A_keep_alive_more_often_than_asked_is_inside()
    {
        LimitRange limit = NetworkLimits.KeepAlive(UniverseProtocol.Sacn);
        Assert.Equal(LimitVerdict.Inside, LimitRule.Judge(490, 510, 109, 0.1, limit, null, out _));
        Assert.Equal(LimitVerdict.OutsideTransmit, LimitRule.Judge(900, 1100, 109, 0.1, limit, null, out _));
    }
}
