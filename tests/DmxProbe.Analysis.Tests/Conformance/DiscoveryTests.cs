using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Tests.Network;
using DmxProbe.Testing.Network;

namespace DmxProbe.Analysis.Tests.Conformance;

/// <summary>Universe discovery against what is sent (E1.31-2018 4.3, 6.7.1.1, 8.5, 12.2).</summary>
public class DiscoveryTests
{
    [Fact]
    public void A_list_that_is_right_gives_no_finding() =>
        Assert.Empty(Levels(1).Every(2, 60, 10, _ => Wire.Discovery(1)).Survey().Ids());

    [Fact]
    public void A_universe_that_is_sent_and_not_listed_is_told()
    {
        SurveySnapshot survey = Levels(1, 2).Every(2, 60, 10, _ => Wire.Discovery(1)).Survey();

        Finding finding = survey.One("discovery-missing-universe");
        Assert.Equal(["discovery-missing-universe"], survey.Ids());
        Assert.Equal(Severity.Warning, finding.Severity);
        Assert.Contains("sends sACN 2 and does not list it", finding.Text, StringComparison.Ordinal);
    }

    // 12.2: the list is to be right by the second interval, so a universe that began 15 s ago may still be missing.
    [Fact]
    public void A_universe_that_has_just_begun_may_still_be_missing()
    {
        FrameSource source = Levels(1).Every(45, 60, 0.1, i => Wire.Sacn(i, universe: 2));
        Assert.Empty(source.Every(2, 60, 10, _ => Wire.Discovery(1)).Survey().Ids());
    }

    [Fact]
    public void A_listed_universe_that_is_not_seen_is_told_and_a_synchronization_address_is_not()
    {
        Assert.Equal(["discovery-not-seen"], Levels(1).Every(2, 60, 10, _ => Wire.Discovery(1, 9)).Survey().Ids());

        FrameSource synced = new FrameSource()
            .Every(0, 60, 0.1, i => Wire.Sacn(i, syncAddress: 9))
            .Every(0.05, 60, 0.1, i => Wire.Sync(i, 9))
            .Every(2, 60, 10, _ => Wire.Discovery(1, 9));
        Assert.Empty(synced.Survey().Ids());
    }

    [Theory]
    [InlineData(50, false)]
    [InlineData(20, true)]
    public void A_universe_still_listed_20_s_after_its_end_is_told(double end, bool isTold)
    {
        FrameSource source = Levels(1)
            .Every(0, end, 0.1, i => Wire.Sacn(i, universe: 2))
            .Every(end, end + 0.29, 0.1, i => Wire.Sacn((int)(end * 10) + i, universe: 2, options: 0x40))
            .Every(2, 60, 10, _ => Wire.Discovery(1, 2));

        Assert.Equal(isTold, source.Survey().Ids().Contains("discovery-still-lists"));
    }

    [Theory]
    [InlineData(10, null)]
    [InlineData(15, "discovery-rate")]
    [InlineData(3, "discovery-rate")]
    public void How_often_the_list_comes_is_held_against_10_s(double every, string? id) =>
        Assert.Equal(id is null ? [] : [id], Levels(1).Every(2, 60, every, _ => Wire.Discovery(1)).Survey().Ids());

    [Fact]
    public void A_source_without_discovery_is_told_only_where_discovery_is_seen()
    {
        Assert.Empty(Levels(1).Survey().Ids());

        FrameSource two = Levels(1)
            .Every(0, 60, 0.1, i => Wire.Sacn(i, universe: 2, cid: Wire.OtherCid, from: Wire.Other))
            .Every(2, 60, 10, _ => Wire.Discovery(1));
        Assert.Equal(["discovery-absent"], two.Survey().Ids());
    }

    private static FrameSource Levels(params int[] universes)
    {
        FrameSource source = new();
        foreach (int universe in universes)
        {
            source.Every(0.001 * universe, 60, 0.1, i => Wire.Sacn(i, universe));
        }

        return source;
    }
}
