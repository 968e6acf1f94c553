using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Network;

/// <summary>
/// Multicast, joins and queriers. 125 s, 255 s and 260 s: RFC 3376 sections 8.2, 8.5 and 8.4, known by secondary sources (manuals
/// of switches and trade pages say 255 or 260 s).
/// </summary>
public class GroupRuleTests
{
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_network_with_a_querier_or_seen_too_short_gives_no_finding(bool hasQuerier)
    {
        double until = hasQuerier ? 400 : 250;
        FrameSource source = Levels(until).At(1, NetworkFrames.IgmpJoin(Wire.Gateway, 1));
        if (hasQuerier)
        {
            source.Every(2, until, 125, _ => NetworkFrames.IgmpQuery(Wire.Switch)).Every(3, until, 125, _ => NetworkFrames.IgmpJoin(Wire.Gateway, 1));
        }

        Assert.Empty(source.Survey().Ids());
    }

    [Fact]
    public void Nobody_asking_for_more_than_260_s_is_a_warning_where_somebody_joined()
    {
        SurveySnapshot survey = Levels(300).At(1, NetworkFrames.IgmpJoin(Wire.Gateway, 1)).Survey();

        Assert.Equal(["no-querier"], survey.Ids());
        Assert.Equal(Severity.Warning, survey.One("no-querier").Severity);
        Assert.Contains("by secondary sources", survey.One("no-querier").LimitSource, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_any_traffic_of_the_network_itself_nothing_is_said_of_queriers()
    {
        // What a socket hears: never IGMP, never ARP.
        Assert.Empty(Levels(300).Survey().Ids());
    }

    [Fact]
    public void A_querier_that_falls_silent_is_a_warning()
    {
        SurveySnapshot survey = Levels(600)
            .Every(2, 260, 125, _ => NetworkFrames.IgmpQuery(Wire.Switch))
            .Every(3, 600, 100, _ => NetworkFrames.IgmpJoin(Wire.Gateway, 1))
            .Survey();

        Finding finding = survey.One("querier-silent");
        Assert.Equal(["querier-silent"], survey.Ids());
        Assert.Contains("10.20.0.1 stopped asking", finding.Text, StringComparison.Ordinal);
    }

    // The multicast stops as long after the join as a switch remembers: 255 to 260 s.
    [Theory]
    [InlineData(240, false)]
    [InlineData(256, true)]
    [InlineData(260, true)]
    [InlineData(280, false)]
    public void Multicast_that_ends_when_a_switch_forgets_is_not_the_senders_fault(double after, bool isAged)
    {
        SurveySnapshot survey = Levels(1 + after)
            .At(1, NetworkFrames.IgmpJoin(Wire.Gateway, 1))
            .Every(0.5, 320, 20, _ => Wire.ToAll(ArtNetPackets.Poll()))
            .Survey();

        Assert.Equal(isAged, survey.Findings.Any(finding => finding is { Id: "multicast-aged-out", Severity: Severity.Fault }));
    }

    [Fact]
    public void A_host_that_left_and_a_querier_that_asked_are_no_ageing()
    {
        SurveySnapshot left = Levels(258)
            .At(1, NetworkFrames.IgmpJoin(Wire.Gateway, 1))
            .At(258, NetworkFrames.IgmpLeave(Wire.Gateway, 1))
            .At(300, Wire.ToAll(ArtNetPackets.Poll()))
            .Survey();
        Assert.DoesNotContain("multicast-aged-out", left.Ids());

        SurveySnapshot asked = Levels(258)
            .At(1, NetworkFrames.IgmpJoin(Wire.Gateway, 1))
            .At(120, NetworkFrames.IgmpQuery(Wire.Switch))
            .At(300, Wire.ToAll(ArtNetPackets.Poll()))
            .Survey();
        Assert.DoesNotContain("multicast-aged-out", asked.Ids());
    }

    [Fact]
    public void Two_queriers_that_both_go_on_are_told()
    {
        SurveySnapshot survey = Levels(300)
            .Every(2, 300, 60, _ => NetworkFrames.IgmpQuery(Wire.Switch))
            .Every(20, 300, 60, _ => NetworkFrames.IgmpQuery(Wire.Gateway))
            .Survey();

        Assert.Equal(["two-queriers"], survey.Ids());
    }

    [Fact]
    public void Multicast_that_nobody_joined_is_told_and_from_50_Mbit_on_a_warning()
    {
        SurveySnapshot little = Levels(30).At(1, NetworkFrames.IgmpJoin(Wire.Gateway, 7)).Survey();
        Assert.Equal(["joined-nobody-sends", "multicast-nobody-joined"], little.Ids());
        Assert.Equal(Severity.Info, little.One("multicast-nobody-joined").Severity);
        Assert.Contains("10.20.0.21 listen to sACN 7", little.One("joined-nobody-sends").Text, StringComparison.Ordinal);

        FrameSource source = new FrameSource().At(1, NetworkFrames.IgmpJoin(Wire.Gateway, 7)).At(22, Wire.Sacn(0, universe: 7));
        for (int i = 0; i < 250_000; i++)
        {
            source.At(i * 0.0001, Flood[i % 256]);
        }

        Finding flood = source.Survey().One("multicast-nobody-joined");
        Assert.Equal(Severity.Warning, flood.Severity);
        Assert.Contains("slows gateways down", flood.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_ipv6_join_counts_as_one_and_version_1_is_told()
    {
        Assert.Empty(Levels(30).At(1, NetworkFrames.MldJoin(Wire.Gateway, 1)).Survey().Ids());

        // E1.31-2018 9.2: receivers join by IGMPv2 or later.
        Assert.Equal(["old-group-version"], Levels(30).At(1, NetworkFrames.IgmpJoin(Wire.Gateway, 1, version: 1)).Survey().Ids());
    }

    private static readonly byte[][] Flood = [.. Enumerable.Range(0, 256).Select(i => Wire.Sacn(i))];

    private static FrameSource Levels(double until) => new FrameSource().Every(0, until, 0.2, i => Wire.Sacn(i));
}
