using System.Net;
using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Tests.Network;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Conformance;

/// <summary>The rules of Art-Net 4 (1.4dn) as tables: packets, paths, polls and devices.</summary>
public class ArtNetRuleTests
{
    // Offsets of ArtDmx: page 74.
    [Theory]
    [InlineData(11, 13, "art-net-old-version", Severity.Warning)]
    [InlineData(11, 15, null, Severity.Info)]
    [InlineData(15, 0x81, "art-net-bit-7", Severity.Warning)] // page 20
    [InlineData(12, 0, "sequence-not-used", Severity.Info)] // page 74
    public void One_changed_octet_gives_one_finding(int offset, int value, string? id, Severity severity)
    {
        FrameSource source = new();
        for (int i = 0; i < 40; i++)
        {
            byte[] payload = ArtNetPackets.Dmx(0, i + 1, Wire.Slots(i));
            payload[offset] = (byte)value;
            source.At(i * 0.025, UdpFrames.Build(UdpPath.Unicast(Wire.Desk, Wire.Gateway, ArtNetPackets.Port), payload, i + 1));
        }

        SurveySnapshot survey = source.Survey();

        Assert.Equal(id is null ? [] : [id], survey.Ids());
        Assert.All(survey.Findings, finding => Assert.Equal(severity, finding.Severity));
    }

    [Theory]
    [InlineData(0x17, "alternate-start-code")]
    [InlineData(0xCC, "art-nzs-start-code")] // page 80
    [InlineData(0x00, "art-nzs-start-code")]
    public void What_ArtNzs_may_not_carry_is_told(int code, string id)
    {
        byte[] nzs = UdpFrames.Build(UdpPath.Unicast(Wire.Desk, Wire.Gateway, ArtNetPackets.Port), ArtNetPackets.Nzs(0, 1, code, [1, 2]), 9);
        SurveySnapshot survey = Levels().At(0.5, nzs).Survey();
        Assert.Contains(id, survey.Ids());
    }

    [Theory]
    [InlineData("10.20.0.21", 6454, 6454, null, Severity.Info)]
    [InlineData("10.255.255.255", 6454, 6454, "art-net-broadcast", Severity.Info)] // page 74
    [InlineData("255.255.255.255", 6454, 6454, "art-net-broadcast", Severity.Info)]
    [InlineData("10.20.0.21", 40000, 6454, "art-net-port", Severity.Info)]
    [InlineData("10.20.0.21", 6454, 6455, "art-net-port", Severity.Warning)]
    public void Where_ArtDmx_goes_and_by_which_ports_is_held_against_the_text(string to, int from, int port, string? id, Severity severity)
    {
        SurveySnapshot survey = new FrameSource()
            .Every(0, 1, 0.025, i => UdpFrames.Build(Path(to, from, port), ArtNetPackets.Dmx(0, i + 1, Wire.Slots(i)), i + 1))
            .Survey();

        Assert.Equal(id is null ? [] : [id], survey.Ids());
        Assert.All(survey.Findings, finding => Assert.Equal((severity, RuleBook.SourceOf(id!)), (finding.Severity, finding.LimitSource)));
    }

    // Older editions allowed broadcast for up to about 40 universes.
    [Theory]
    [InlineData(40, Severity.Info)]
    [InlineData(41, Severity.Warning)]
    public void Many_broadcast_universes_are_a_warning(int universes, Severity severity)
    {
        FrameSource source = new();
        for (int port = 0; port < universes; port++)
        {
            source.Every(port * 0.0001, 1, 0.1, i => UdpFrames.Build(
                Path("10.255.255.255", 6454, 6454), ArtNetPackets.Dmx(port, i + 1, Wire.Slots(i)), (i * 50) + port + 1));
        }

        Assert.Equal(severity, source.Survey().One("art-net-broadcast").Severity);
    }

    [Theory]
    [InlineData(0.2, "poll-interval")]
    [InlineData(2.75, null)]
    [InlineData(3.0, null)]
    [InlineData(10.0, "poll-interval")]
    public void Polls_are_held_against_2_5_to_3_s(double every, string? id) => Assert.Equal(
        id is null ? [] : [id],
        Levels(80).Every(0.3, 80, every, _ => Wire.ToAll(ArtNetPackets.Poll())).Survey().Ids());

    [Fact]
    public void A_device_that_stops_answering_is_told()
    {
        SurveySnapshot survey = Levels(60)
            .Every(0.3, 60, 2.8, _ => Wire.ToAll(ArtNetPackets.Poll()))
            .Every(0.5, 30, 2.8, _ => Reply())
            .Survey();
        Assert.Equal(["device-silent"], survey.Ids());

        Assert.Empty(Levels(60)
            .Every(0.3, 60, 2.8, _ => Wire.ToAll(ArtNetPackets.Poll()))
            .Every(0.5, 60, 2.8, _ => Reply())
            .Survey()
            .Ids());
    }

    [Theory]
    [InlineData("address", "device-states-other-address", Severity.Warning)]
    [InlineData("ports", "device-too-many-ports", Severity.Info)]
    [InlineData("merging", "device-merges-unseen", Severity.Warning)]
    public void What_a_device_says_of_itself_is_held_against_what_is_seen(string what, string id, Severity severity)
    {
        byte[] reply = what switch
        {
            "address" => Reply(fields => fields with { Address = IPAddress.Parse("192.0.2.1") }),
            "ports" => Reply(fields => fields with { PortCount = 8 }),
            _ => Reply(fields => fields with { GoodOutputA = 0x88 }),
        };
        SurveySnapshot survey = Levels(10)
            .Every(0.3, 10, 2.8, _ => Wire.ToAll(ArtNetPackets.Poll()))
            .Every(0.5, 10, 2.8, _ => reply)
            .Survey();

        Assert.Equal([id], survey.Ids());
        Assert.Equal(severity, survey.One(id).Severity);
    }

    [Fact]
    public void Levels_for_a_port_a_device_does_not_have_and_outputs_without_levels_are_told()
    {
        SurveySnapshot survey = Levels(30)
            .Every(0.3, 30, 2.8, _ => Wire.ToAll(ArtNetPackets.Poll()))
            .Every(0.5, 30, 2.8, _ => Reply(fields => fields with { PortAddress = 1 }))
            .Survey();

        Assert.Equal(["output-without-sender", "sent-to-unlisted-port"], survey.Ids());
        Assert.Contains("goes to 10.20.0.21, whose outputs are set to Port-Address 1", survey.One("sent-to-unlisted-port").Text, StringComparison.Ordinal);
    }

    // Pages 45, 50 to 57 and 86.
    [Theory]
    [InlineData(0x6000, 107, 106, 0x01, "end the merge")]
    [InlineData(0x6000, 107, 106, 0x50, "merge by highest value")]
    [InlineData(0x7000, 20, 13, 0, "inputs on or off")]
    [InlineData(0xF800, 34, 14, 0x86, "its address settings")]
    [InlineData(0xF800, 34, 14, 0x00, "asked for its address settings only")]
    public void A_device_programmed_from_afar_is_told(int opCode, int length, int offset, byte command, string words)
    {
        byte[] body = new byte[length - 12];
        body[offset - 12] = command;
        byte[] frame = UdpFrames.Build(UdpPath.Unicast(Wire.Desk, Wire.Gateway, ArtNetPackets.Port), ArtNetPackets.Other(opCode, body));

        SurveySnapshot survey = Levels().At(0.5, frame).Survey();

        Assert.Equal(["device-programmed"], survey.Ids());
        Assert.Contains(words, survey.One("device-programmed").Text, StringComparison.Ordinal);
        Assert.Contains("10.20.0.21", survey.One("device-programmed").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void ArtSync_to_one_device_is_told() // pages 77 to 79
    {
        byte[] sync = UdpFrames.Build(UdpPath.Unicast(Wire.Desk, Wire.Gateway, ArtNetPackets.Port), ArtNetPackets.Sync());
        Assert.Equal(["art-sync-unicast"], Levels().Every(0.01, 1, 0.025, _ => sync).Survey().Ids());
    }

    // Pages 98 (ArtTodData) and 103 (ArtRdm): unicast only. Page 96: ArtTodRequest may be broadcast.
    [Theory]
    [InlineData(0x8000, 44, true, null)]
    [InlineData(0x8100, 16, true, "art-rdm-broadcast")]
    [InlineData(0x8100, 16, false, null)]
    public void RDM_packets_for_one_are_told_where_they_go_to_everybody(int opCode, int length, bool toAll, string? id)
    {
        byte[] payload = ArtNetPackets.Other(opCode, new byte[length]);
        byte[] frame = toAll ? Wire.ToAll(payload) : UdpFrames.Build(UdpPath.Unicast(Wire.Gateway, Wire.Desk, ArtNetPackets.Port), payload);

        Assert.Equal(id is null ? [] : [id], Levels().At(0.5, frame).Survey().Ids());
    }

    private static UdpPath Path(string to, int from, int port)
    {
        UdpPath path = UdpPath.Unicast(Wire.Desk, Wire.Gateway, port, from) with { Destination = IPAddress.Parse(to) };
        return to.EndsWith("255", StringComparison.Ordinal) ? path with { DestinationMac = [255, 255, 255, 255, 255, 255] } : path;
    }

    private static byte[] Reply(Func<ArtPollReplyFields, ArtPollReplyFields>? change = null)
    {
        ArtPollReplyFields fields = new() { Address = Wire.Gateway.Ipv4, Mac = Wire.Gateway.Mac, LongName = "gateway" };
        return UdpFrames.Build(
            UdpPath.Unicast(Wire.Gateway, Wire.Desk, ArtNetPackets.Port), ArtNetPackets.PollReply(change?.Invoke(fields) ?? fields));
    }

    private static FrameSource Levels(double until = 1) => new FrameSource().Every(0, until, 0.1, i => Wire.Dmx(i));
}
