using System.Net;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Network;

/// <summary>Address conflicts by ARP and ArtPollReply, and IP fragments.</summary>
public class AddressAndFragmentTests
{
    private static readonly byte[] First = [2, 0, 0, 0, 0, 1];
    private static readonly byte[] Second = [2, 0, 0, 0, 0, 2];

    [Fact]
    public void Two_adapters_that_keep_claiming_one_address_are_a_fault()
    {
        SurveySnapshot survey = Levels()
            .Every(1, 20, 4, i => NetworkFrames.Arp(i % 2 == 0 ? First : Second, "10.20.0.50", "10.20.0.1", isReply: true))
            .Survey();

        Finding finding = survey.One("address-conflict");
        Assert.Equal(["address-conflict"], survey.Ids());
        Assert.Equal((Severity.Fault, "10.20.0.50"), (finding.Severity, finding.Subject));
        Assert.Contains("02:00:00:00:00:01 and 02:00:00:00:00:02", finding.Text, StringComparison.Ordinal);
    }

    // One after the other within a minute: may be a swapped device, so a warning; after more than a minute: nothing.
    [Theory]
    [InlineData(30, "address-conflict")]
    [InlineData(90, null)]
    public void An_address_that_goes_over_to_another_adapter_is_weighed_by_the_time_between(double later, string? id)
    {
        SurveySnapshot survey = Levels(100)
            .At(1, NetworkFrames.Arp(First, "10.20.0.50", "10.20.0.50"))
            .At(1 + later, NetworkFrames.Arp(Second, "10.20.0.50", "10.20.0.50"))
            .Survey();

        Assert.Equal(id is null ? [] : [id], survey.Ids());
        Assert.True(survey.Findings.All(finding => finding.Severity == Severity.Warning));
    }

    [Fact]
    public void Probes_questions_and_other_vlans_are_no_conflict()
    {
        byte[] tagged = NetworkFrames.Arp(Second, "10.20.0.50", "10.20.0.1");
        tagged = [.. tagged[..12], 0x81, 0, 0, 20, .. tagged[12..]];
        SurveySnapshot survey = Levels()
            .Every(1, 20, 2, _ => NetworkFrames.Arp(First, "10.20.0.50", "10.20.0.1"))
            .Every(1.5, 20, 2, _ => NetworkFrames.Arp(Second, "0.0.0.0", "10.20.0.50"))
            .Every(1.7, 20, 2, _ => tagged)
            .Survey();

        Assert.Empty(survey.Ids());
    }

    [Fact]
    public void One_computer_whose_adapters_answer_for_both_its_addresses_is_told_as_such()
    {
        SurveySnapshot survey = Levels()
            .Every(1, 20, 4, i => NetworkFrames.Arp(i % 2 == 0 ? First : Second, "10.20.0.50", "10.20.0.1", isReply: true))
            .Every(2, 20, 4, i => NetworkFrames.Arp(i % 2 == 0 ? Second : First, "10.20.0.51", "10.20.0.1", isReply: true))
            .Survey();

        Assert.Equal(["two-interfaces-one-network"], survey.Ids());
    }

    [Fact]
    public void Two_devices_that_reply_from_one_address_are_a_fault()
    {
        SurveySnapshot survey = Levels()
            .Every(0.5, 20, 2.8, _ => Wire.ToAll(ArtNetPackets.Poll()))
            .Every(0.7, 20, 2.8, _ => Reply(First))
            .Every(0.8, 20, 2.8, _ => Reply(Second))
            .Survey();

        Assert.Equal(Severity.Fault, survey.One("device-address-shared").Severity);
    }

    [Theory]
    [InlineData(true, "of 5 the capture holds 5 whole")]
    [InlineData(false, "of 5 the capture holds 4 whole")]
    public void Fragments_are_told_with_how_many_datagrams_are_whole(bool isWhole, string words)
    {
        FrameSource source = Levels();
        for (int i = 0; i < 5; i++)
        {
            byte[][] parts = NetworkFrames.Fragments(UdpPath.ToSacnGroup(Wire.Desk, 9), new byte[600], 100 + i);
            source.At(1 + i, parts[0]);
            if (isWhole || i != 2)
            {
                source.At(1.0001 + i, parts[1]);
            }
        }

        SurveySnapshot survey = source.Survey();

        Assert.Equal(["fragmented-packets"], survey.Ids());
        Assert.Contains(words, survey.One("fragmented-packets").Text, StringComparison.Ordinal);
    }

    private static byte[] Reply(byte[] mac) => UdpFrames.Build(
        UdpPath.Unicast(Wire.Gateway, Wire.Desk, ArtNetPackets.Port),
        ArtNetPackets.PollReply(new ArtPollReplyFields { Address = IPAddress.Parse("10.20.0.21"), Mac = mac, PortAddress = 0, PortType = 0 }));

    private static FrameSource Levels(double until = 20) => new FrameSource().Every(0, until, 0.1, i => Wire.Sacn(i));
}
