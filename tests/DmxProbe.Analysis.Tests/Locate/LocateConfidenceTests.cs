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
        double free = LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good);
        foreach (LocateFit fit in new[]
        {
            Good with { Unexplained = 0.2 },
            Good with { Changes = 2, LightChanges = 1 },
            Good with { SpillScale = 0.15, SpillShare = 0.6, OwnShare = 0.1 },
            Good with { MarginOverNone = 3 },
            Good with { LightChanges = 60 },
        })
        {
            Assert.True(LocateConfidence.Of(LocateClaim.NotEnough, 0.9, fit) < free, fit.ToString());
        }
    }

    // By hand, from the weights and levels that docs/locating.md says were fitted: ln(.9 / .1) = 2.197, so 1.757 + .407 * 2.197
    // = 2.651 (level .978), plus the weight of what stands in the way; ln(.6 / .4) = .405: 1.922; posterior 1e-9 counts as odds of -2: .943.
    [Fact]
    public void Each_trait_weighs_what_was_fitted_and_each_level_prints_its_share()
    {
        LocateFit all = Good with { MarginOverNone = 3, Imperfection = 3, Changes = 2, OwnShare = 0.2 };
        Assert.Equal(0.978, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good)); // 2.651
        Assert.Equal(0.836, LocateConfidence.Of(LocateClaim.NotEnough, 0.87, Good)); // 1.757 + .407 * 1.901 = 2.531
        Assert.Equal(0.978, LocateConfidence.Of(LocateClaim.OneOf, 0.87, Good)); // + .246 = 2.777
        Assert.Equal(0.836, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good with { Imperfection = 3 })); // - .683 = 1.968
        Assert.Equal(0.836, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good with { Changes = 2 })); // - 1.688 = .963
        Assert.Equal(0.836, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good with { LightChanges = 16 })); // - .330 = 2.321
        Assert.Equal(0.836, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good with { OwnShare = 0.2 })); // - 1.217 = 1.434
        Assert.Equal(0.294, LocateConfidence.Of(LocateClaim.NotEnough, 0.6, Good with { MarginOverNone = 3 })); // 1.922 - 1.604 = .318
        Assert.Equal(0.836, LocateConfidence.Of(LocateClaim.NotEnough, 0.6, Good with { SpillScale = 0.01 })); // 1.922 - 1.017 = .905
        Assert.Equal(0.294, LocateConfidence.Of(LocateClaim.NotEnough, 0.6, Good with { SpillScale = 0.06, Lead = 0 })); // - 1.456 too = -.551
        Assert.Equal(0.031, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, all)); // 2.651 - 5.192 = -2.541
        Assert.Equal(0.031, LocateConfidence.Of(LocateClaim.NotEnough, 0.9, Good with { Unexplained = 0.2 })); // - 2.430 ln(1 + .198 / .005) = -6.35
    }

    [Fact]
    public void Where_nothing_explains_the_light_the_best_guess_is_given_one_per_cent_whatever_its_posterior() =>
        Assert.Equal(0.01, LocateConfidence.Of(LocateClaim.NothingExplains, 1, Good));

    [Fact]
    public void Without_a_trace_the_posterior_is_printed() =>
        Assert.Equal(0.8, LocateConfidence.Of(LocateClaim.NotEnough, 0.8, null));
}
