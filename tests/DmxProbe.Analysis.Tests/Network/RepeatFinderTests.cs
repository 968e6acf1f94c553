using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Network;
using DmxProbe.Analysis.Survey;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Network;

/// <summary>Packets captured twice, sent twice, and going round in a loop.</summary>
public class RepeatFinderTests
{
    private const double Tick = 0.025;

    [Fact]
    public void A_mirror_of_both_directions_shows_each_packet_twice_and_nobody_sent_it_twice()
    {
        FrameSource source = new FrameSource().Every(0, 2, Tick, i => Wire.Sacn(i)).Every(0.00001, 2, Tick, i => Wire.Sacn(i));

        SurveySnapshot survey = source.Survey();

        Assert.Equal(["packets-captured-twice"], survey.Ids());
        Finding finding = survey.One("packets-captured-twice");
        Assert.Equal(Severity.Info, finding.Severity);
        Assert.Contains("80 packets are in this capture twice although sent once", finding.Text, StringComparison.Ordinal);
        Assert.Contains("rates shown are too high", finding.Text, StringComparison.Ordinal);
        Assert.Equal(2, finding.FirstRecord);
    }

    // RFC 791: one packet keeps its identification; a sender that repeats itself counts on.
    [Fact]
    public void A_sender_that_sends_everything_twice_is_told_from_a_mirror()
    {
        SurveySnapshot survey = new FrameSource()
            .Every(0, 2, 2 * Tick, i => Wire.Sacn(i, identification: 2 * i))
            .Every(0.00001, 2, 2 * Tick, i => Wire.Sacn(i, identification: (2 * i) + 1))
            .Survey();

        Assert.Equal(["packets-sent-twice"], survey.Ids());
        Assert.Equal(Severity.Warning, survey.One("packets-sent-twice").Severity);
    }

    [Fact]
    public void A_sender_that_leaves_the_identification_0_cannot_be_told_apart()
    {
        SurveySnapshot survey = new FrameSource()
            .Every(0, 2, 2 * Tick, i => Wire.Sacn(i, identification: 0))
            .Every(0.00001, 2, 2 * Tick, i => Wire.Sacn(i, identification: 0))
            .Survey();

        Assert.Equal(["repeated-packets"], survey.Ids());
    }

    [Theory]
    [InlineData(RepeatKind.OtherInterface, "two interfaces of the capture")]
    [InlineData(RepeatKind.OtherVlan, "in two VLANs")]
    [InlineData(RepeatKind.Routed, "before and behind a router")]
    public void A_copy_is_told_by_where_it_was_seen(RepeatKind kind, string words)
    {
        FrameSource source = new();
        for (int i = 0; i < 40; i++)
        {
            byte[] frame = Wire.Sacn(i);
            byte[] copy = kind switch
            {
                RepeatKind.OtherVlan => [.. frame[..12], 0x81, 0x00, 0x00, 0x14, .. frame[12..]],
                RepeatKind.Routed => Hop(frame),
                _ => frame,
            };
            source.At(i * Tick, frame).At((i * Tick) + 0.0001, copy, kind == RepeatKind.OtherInterface ? 1 : 0);
        }

        SurveySnapshot survey = source.Survey();

        Assert.Equal(["packets-captured-twice"], survey.Ids());
        Assert.Contains(words, survey.One("packets-captured-twice").Text, StringComparison.Ordinal);
        Assert.Equal(40, survey.Universes[0].Streams[0].Repeats!.Of(kind));
    }

    [Fact]
    public void One_sender_with_two_interfaces_in_one_network_is_told()
    {
        SurveySnapshot survey = new FrameSource()
            .Every(0, 2, Tick, i => Wire.Sacn(i))
            .Every(0.0001, 2, Tick, i => Wire.Sacn(i, from: Wire.Other))
            .Survey();

        Finding finding = survey.One("two-interfaces-one-network");
        Assert.Equal(Severity.Warning, finding.Severity);
        Assert.Contains("10.20.0.10 and 10.20.0.11", finding.Text, StringComparison.Ordinal);
    }

    // More than ten of one packet within a second: common practice, no source.
    [Theory]
    [InlineData(10, false)]
    [InlineData(11, true)]
    public void A_packet_that_comes_round_more_than_ten_times_is_a_loop(int times, bool isLoop)
    {
        FrameSource source = new FrameSource().Every(0, 2, Tick, i => Wire.Sacn(i));
        for (int i = 1; i < times; i++)
        {
            source.At(1 + (i * 0.001), Wire.Sacn(40));
        }

        SurveySnapshot survey = source.Survey();

        Assert.Equal(isLoop, survey.Findings.Any(finding => finding is { Id: "switch-loop", Severity: Severity.Fault }));
    }

    [Fact]
    public void A_loop_is_found_although_its_packets_run_through_each_other_and_are_not_counted()
    {
        FrameSource source = new();
        for (int round = 0; round < 15; round++)
        {
            for (int i = 0; i < 8; i++)
            {
                byte[] frame = UdpFrames.Build(
                    UdpPath.Broadcast(Wire.Desk, new System.Net.IPAddress([10, 255, 255, 255]), ArtNetPackets.Port),
                    ArtNetPackets.Dmx(0, 0, Wire.Slots(i)),
                    100 + i);
                source.At((round * 0.01) + (i * 0.001), frame);
            }
        }

        Assert.Contains("switch-loop", source.Survey().Ids());
    }

    private static byte[] Hop(byte[] frame)
    {
        byte[] copy = [.. frame];
        copy[22]--;
        return copy;
    }
}
