using DmxProbe.Analysis.Survey;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Network;

/// <summary>Frames with octets changed and cut anywhere, at times that jump, through the whole survey: nothing throws, nothing grows.</summary>
public class HostileFramesTests
{
    private static readonly byte[][] Corpus =
    [
        Wire.Sacn(1), Wire.Sacn(2, syncAddress: 7, options: 0x20), Wire.Sync(1, 7), Wire.Discovery(1, 2, 9), Wire.Dmx(1),
        Wire.ToAll(ArtNetPackets.Poll()), Wire.ToAll(ArtNetPackets.Sync()), Wire.ToAll(ArtNetPackets.Other(0x6000, new byte[95])),
        Wire.ToAll(ArtNetPackets.Other(0xF800, new byte[22])), Wire.ToAll(ArtNetPackets.Other(0x7000, new byte[8])),
        Wire.ToAll(ArtNetPackets.PollReply(new ArtPollReplyFields { Address = Wire.Desk.Ipv4, LongName = "x" })),
        Wire.ToAll(ArtNetPackets.Nzs(3, 1, 0x17, [1, 2, 3])),
        NetworkFrames.Arp([2, 0, 0, 0, 0, 1], "10.20.0.50", "10.20.0.1"), NetworkFrames.IgmpQuery(Wire.Switch),
        NetworkFrames.IgmpJoin(Wire.Gateway, 1), NetworkFrames.IgmpLeave(Wire.Gateway, 1), NetworkFrames.MldJoin(Wire.Gateway, 1),
        .. NetworkFrames.Fragments(UdpPath.ToSacnGroup(Wire.Desk, 9), new byte[600], 100),
    ];

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Whatever_comes_the_survey_ends_with_a_result(int seed)
    {
        Random random = new(seed);
        FrameSource source = new();
        for (int i = 0; i < 20_000; i++)
        {
            byte[] frame = [.. Corpus[random.Next(Corpus.Length)]];
            for (int changes = random.Next(0, 4); changes > 0; changes--)
            {
                frame[random.Next(random.Next(3) == 0 ? frame.Length : Math.Min(frame.Length, 80))] =
                    random.Next(3) == 0 ? (byte)0xFF : (byte)random.Next(256);
            }

            source.At(random.NextDouble() * 400, random.Next(4) == 0 ? frame[..random.Next(frame.Length)] : frame, random.Next(2));
        }

        SurveySnapshot survey = source.Survey();

        Assert.Equal(20_000, survey.Inputs[0].Records);
        Assert.NotEmpty(survey.Network.Groups.Members);
        Assert.True(survey.Network.Groups.Members.Count <= 4096 && survey.Network.Conflicts.Count <= 4096);
        Assert.All(survey.Findings, finding => Assert.False(string.IsNullOrWhiteSpace(finding.Text)));
        Assert.True(survey.Last > survey.First && survey.Last < Timestamp.MaxValue);
    }
}
