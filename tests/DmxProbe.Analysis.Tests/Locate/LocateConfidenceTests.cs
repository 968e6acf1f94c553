using DmxProbe.Analysis.Locate;

namespace DmxProbe.Analysis.Tests.Locate;

public class LocateConfidenceTests
{
    // A fit in which nothing stands in the way of a claim.
    private static readonly LocateFit Good = new(0.1, 1, 2.5, 0.0005, 0.001, 1, 0, 60, 0, -2, 6, 6, 1785);

    [Theory]
    [InlineData(LocateClaim.Found)]
    [InlineData(LocateClaim.Class)]
    public void A_claim_prints_its_posterior_and_never_more_than_the_cap(LocateClaim claim)
    {
        Assert.Equal(0.993, LocateConfidence.Of(claim, 0.993, Good));
        Assert.Equal(LocateRule.HighestPrinted, LocateConfidence.Of(claim, 1, Good));
    }

    [Theory]
    [InlineData(LocateClaim.OneOf)]
    [InlineData(LocateClaim.NotEnough)]
    public void Without_a_claim_a_higher_posterior_never_prints_less(LocateClaim claim)
    {
        double before = -1;
        foreach (double posterior in new[] { 1e-9, 0.1, 0.3, 0.5, 0.7, 0.9, 0.97, 0.99, 0.999, 0.999999, 1 })
        {
            double printed = LocateConfidence.Of(claim, posterior, Good);
            Assert.InRange(printed, before, LocateRule.HighestPrinted);
            before = printed;
        }
    }

    [Fact]
    public void What_stands_in_the_way_of_a_claim_lowers_the_confidence()
    {
        double free = LocateConfidence.Of(LocateClaim.NotEnough, 0.6, Good);
        foreach (LocateFit fit in new[]
        {
            Good with { Unexplained = 0.2 },
            Good with { Changes = 2, LightChanges = 1 },
            Good with { SpillScale = 0.15, SpillShare = 0.6, OwnShare = 0.1 },
            Good with { MarginOverNone = 3 },
            Good with { LightChanges = 60 },
        })
        {
            Assert.True(LocateConfidence.Of(LocateClaim.NotEnough, 0.6, fit) < free, fit.ToString());
        }
    }

    // By hand, from the weights and levels that docs/locating.md says were fitted: ln(.9 / .1) = 2.197, so 1.909 + .351 * 2.197
    // = 2.680 (level .953), plus the weight of what stands in the way; posterior 1e-9 counts as odds of -2: 1.207.
    [Fact]
    public void Each_trait_weighs_what_was_fitted_and_each_level_prints_its_share()
    {
        LocateFit all = Good with { MarginOverNone = 3, Imperfection = 3, Changes = 2, OwnShare = 0.2 };
        Assert.Equal(0.953, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good)); // 2.680
        Assert.Equal(0.953, LocateConfidence.Of(LocateClaim.OneOf, 0.6, Good)); // 1.909 + .142 + .157 = 2.208
        Assert.Equal(0.775, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good with { Imperfection = 3 })); // - .954 = 1.726
        Assert.Equal(0.775, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good with { Changes = 2 })); // - 2.105 = .575
        Assert.Equal(0.775, LocateConfidence.Of(LocateClaim.NotEnough, 0.6, Good with { LightChanges = 16 })); // 2.051 - .136 = 1.915
        Assert.Equal(0.775, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good with { OwnShare = 0.2 })); // - 1.139 = 1.541
        Assert.Equal(0.775, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good with { MarginOverNone = 3 })); // - 1.616 = 1.064
        Assert.Equal(0.775, LocateConfidence.Of(LocateClaim.NotEnough, 0.6, Good with { SpillScale = 0.01 })); // 2.051 - .815 = 1.236
        Assert.Equal(0.222, LocateConfidence.Of(LocateClaim.NotEnough, 0.6, Good with { SpillScale = 0.06, Lead = 0 })); // - 1.739 too = -.503
        Assert.Equal(0.222, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, all)); // 2.680 - 5.814 = -3.134
        Assert.Equal(0.005, LocateConfidence.Of(LocateClaim.NotEnough, 1e-9, all)); // 1.207 - 5.814 = -4.607
        Assert.Equal(0.005, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good with { Unexplained = 0.2 })); // - 2.868 ln(1 + .198 / .005) = -7.94
    }

    [Fact]
    public void Where_nothing_explains_the_light_the_best_guess_is_given_one_per_cent_whatever_its_posterior() =>
        Assert.Equal(0.01, LocateConfidence.Of(LocateClaim.NothingExplains, 1, Good));

    [Fact]
    public void Without_a_trace_the_posterior_is_printed() =>
        Assert.Equal(0.8, LocateConfidence.Of(LocateClaim.NotEnough, 0.8, null));
}
