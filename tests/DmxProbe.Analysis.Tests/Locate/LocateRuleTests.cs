using DmxProbe.Analysis.Locate;

namespace DmxProbe.Analysis.Tests.Locate;

public class LocateRuleTests
{
    private static readonly LocateFit Good = new(0.1, 1, 2.5, 0.0005, 0.001, 1, 0, 60, 0, -2, 6, 6, 1785);

    [Fact]
    public void A_fit_without_spill_is_claimed_at_a_lower_posterior_than_one_with_some()
    {
        Assert.True(LocateRule.Normal.AllowsPosterior(0.992, Good, 100));
        Assert.False(LocateRule.Normal.AllowsPosterior(0.992, Good with { SpillScale = 0.015 }, 100));
        Assert.True(LocateRule.Normal.AllowsPosterior(0.99999, Good with { SpillScale = 0.015 }, 100));
    }

    // What is known to be no spill may be claimed at .99; what only may be none must outdo what fits with some as a claim with some must.
    [Fact]
    public void A_fit_without_spill_is_not_claimed_while_another_light_with_some_explains_nearly_as_much()
    {
        LocateFit rivals = Good with { RivalsWithSpill = 0.006 };
        Assert.False(LocateRule.Normal.AllowsPosterior(0.992, rivals, 100));
        Assert.True(LocateRule.Normal.AllowsPosterior(0.992, rivals with { RivalsWithSpill = 1e-5 }, 100));
    }

    [Fact]
    public void A_light_model_that_is_visibly_imperfect_asks_for_more_and_the_strict_rule_for_most()
    {
        LocateFit imperfect = Good with { Imperfection = LocateRule.Imperfect };
        Assert.False(LocateRule.Normal.AllowsPosterior(0.999, imperfect, 100));
        Assert.True(LocateRule.Normal.AllowsPosterior(0.9998, imperfect, 100));
        Assert.False(LocateRule.Strict.AllowsPosterior(0.99999, imperfect, 100));
        Assert.True(LocateRule.Strict.AllowsPosterior(0.99999, Good, 100));
    }

    [Fact]
    public void More_hypotheses_ask_for_a_higher_posterior()
    {
        Assert.True(LocateRule.Normal.AllowsPosterior(0.995, Good, 250));
        Assert.False(LocateRule.Normal.AllowsPosterior(0.995, Good, 2500));
    }
}
