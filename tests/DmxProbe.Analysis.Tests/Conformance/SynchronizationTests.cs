using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Tests.Network;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Conformance;

/// <summary>sACN synchronization (E1.31-2018 6.2.4.1, 6.2.6, 11) and ArtSync (Art-Net 4, 1.4dn, pages 77 to 79) over time.</summary>
public class SynchronizationTests
{
    // 11.1.2: 2.5 s after the last synchronization packet; 6.2.6: Force_Synchronization decides.
    [Theory]
    [InlineData(0x00, "synchronization-frozen", Severity.Fault)]
    [InlineData(0x20, "synchronization-stopped", Severity.Info)]
    public void Synchronization_that_stops_freezes_receivers_unless_the_sender_lets_them_go(int options, string id, Severity severity)
    {
        SurveySnapshot survey = new FrameSource()
            .Every(0, 10, 0.025, i => Wire.Sacn(i, syncAddress: 7, options: options))
            .Every(0.01, 4, 0.025, i => Wire.Sync(i, 7))
            .Survey();

        Assert.Equal([id], survey.Ids());
        Finding finding = survey.One(id);
        Assert.Equal(severity, finding.Severity);
        if (severity == Severity.Fault)
        {
            // The last one comes at 3.985 s.
            Assert.Equal(6.485, (finding.From - FrameSource.Start).TotalSeconds, 3);
            Assert.NotEmpty(finding.Cautions);
        }
    }

    [Fact]
    public void Synchronization_that_goes_on_gives_no_finding() => Assert.Empty(new FrameSource()
        .Every(0, 10, 0.025, i => Wire.Sacn(i, syncAddress: 7))
        .Every(0.01, 10, 0.025, i => Wire.Sync(i, 7))
        .Survey()
        .Ids());

    // 6.2.4.1: a receiver without a synchronization packet acts at once; nothing is proven, so nothing is a fault.
    [Fact]
    public void An_address_without_and_packets_without_levels_are_told()
    {
        SurveySnapshot without = new FrameSource().Every(0, 10, 0.025, i => Wire.Sacn(i, syncAddress: 7)).Survey();
        Assert.Equal(["synchronization-missing"], without.Ids());
        Assert.Equal(Severity.Info, without.One("synchronization-missing").Severity);

        SurveySnapshot unused = new FrameSource()
            .Every(0, 10, 0.025, i => Wire.Sacn(i))
            .Every(0.01, 10, 0.025, i => Wire.Sync(i, 7))
            .Survey();
        Assert.Equal(["synchronization-unused"], unused.Ids());
    }

    [Fact]
    public void Two_sources_for_one_address_are_told() // 11.2.1
    {
        SurveySnapshot survey = new FrameSource()
            .Every(0, 10, 0.025, i => Wire.Sacn(i, syncAddress: 7))
            .Every(0.01, 10, 0.025, i => Wire.Sync(i, 7))
            .Every(0.02, 10, 0.025, i => Wire.Sync(i, 7, Wire.OtherCid, Wire.Other))
            .Survey();

        Assert.Equal(["synchronization-two-senders"], survey.Ids());
    }

    // 6.3.2 and 6.7.2: a count of its own, judged apart from that of the data.
    [Theory]
    [InlineData(1, 0, 0)]
    [InlineData(2, 399, 0)]
    [InlineData(0, 0, 396)] // a receiver starts afresh 2.5 s after the last one it took: three times in 10 s
    public void Synchronization_packets_have_a_count_of_their_own(int step, long lost, long discarded)
    {
        SurveySnapshot survey = new FrameSource()
            .Every(0, 10, 0.025, i => Wire.Sacn(i, syncAddress: 7))
            .Every(0.01, 10.001, 0.025, i => Wire.Sync(i * step, 7))
            .Survey();

        SynchronizationSummary sync = Assert.Single(survey.Synchronization);
        Assert.Equal((lost, discarded), (sync.Lost, sync.Discarded));
        Assert.Equal(step == 1 ? [] : ["synchronization-sequence"], survey.Ids());
    }

    [Fact]
    public void ArtSync_from_another_address_than_the_levels_is_ignored_and_told() // page 79
    {
        SurveySnapshot survey = new FrameSource()
            .Every(0, 5, 0.025, i => Wire.Dmx(i))
            .Every(0.01, 5, 0.025, _ => Wire.ToAll(ArtNetPackets.Sync(), Wire.Other))
            .Survey();
        Assert.Equal(["art-sync-foreign"], survey.Ids());

        Assert.Empty(new FrameSource()
            .Every(0, 5, 0.025, i => Wire.Dmx(i))
            .Every(0.01, 5, 0.025, _ => Wire.ToAll(ArtNetPackets.Sync()))
            .Survey()
            .Ids());
    }

    [Fact]
    public void ArtSync_while_devices_merge_and_ArtSync_that_stops_are_told() // pages 77 to 79
    {
        SurveySnapshot merging = new FrameSource()
            .Every(0, 5, 0.025, i => Wire.Dmx(i))
            .Every(0.005, 5, 0.025, i => Wire.Dmx(i, from: Wire.Other))
            .Every(0.01, 5, 0.025, _ => Wire.ToAll(ArtNetPackets.Sync()))
            .Survey();
        Assert.Equal(["art-sync-while-merging", "several-art-net-senders"], merging.Ids());

        SurveySnapshot stopped = new FrameSource()
            .Every(0, 10, 0.025, i => Wire.Dmx(i))
            .Every(0.01, 2, 0.025, _ => Wire.ToAll(ArtNetPackets.Sync()))
            .Survey();
        Assert.Equal(["art-sync-stopped"], stopped.Ids());
        Assert.Equal(5.985, (stopped.One("art-sync-stopped").From - FrameSource.Start).TotalSeconds, 3);
    }
}
