using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>What is special about the Art-Net recordings; figures from PROVENANCE.md beside them and from tshark 4.0.17.</summary>
public class ArtNetRecordingsTests
{
    private const string Poll = "gen_artnet_dmxnet_poll.pcap";
    private const string Partial = "gen_artnet_artnetlib_partial.pcap";
    private const int ArtTrigger = 0x9900;

    [SkippableFact]
    public void Three_polls_and_39_short_replies_with_a_swapped_port_are_counted_and_none_is_malformed()
    {
        SurveySnapshot survey = Survey(Poll);

        Assert.Equal(3, survey.ArtPolls);
        NodeSummary node = survey.Nodes.Single();
        Assert.Equal(("10.77.0.10", "libNode", "dmxnet test node"), (node.Address, node.PortName, node.LongName));
        Assert.Equal((39, 213, 13849), (node.Replies, node.ShortestReply, node.StatedPort));
        Assert.Equal(21, node.Unasked); // 18 answer the three polls
        Assert.Equal(0, survey.Inputs.Sum(input => input.Malformed + input.CutBySnapLength));
    }

    [SkippableFact]
    public void Every_short_reply_is_an_event_with_its_length_and_its_stated_port()
    {
        FrameCollector read = FrameCollector.OfFile(Capture(Poll));

        LinkEvent[] replies = [.. read.Events.Where(e => e.Kind == LinkEventKind.ArtPollReply)];
        Assert.Equal(39, replies.Length);
        Assert.All(replies, reply => Assert.Equal((213L, 13849L), (reply.A, reply.B)));
        Assert.Equal([108L, 309L, 509L], read.Events.Where(e => e.Kind == LinkEventKind.ArtPoll).Select(e => e.Record));
    }

    [SkippableTheory]
    [InlineData(0, 125)]
    [InlineData(1, 125)]
    [InlineData(2, 126)]
    [InlineData(3, 126)]
    [InlineData(0x123, 5)]
    public void Each_port_address_has_its_frames_and_loses_none(int portAddress, long frames)
    {
        UniverseSummary universe = Universe(Survey(Poll), portAddress);

        StreamSummary stream = universe.Streams.Single();
        Assert.Equal(frames, stream.Frames);
        Assert.Equal([new CountOf(512, frames)], stream.SlotCounts);
        Assert.Equal(new(frames, 0, 0, 0, 0), stream.Sequence);
    }

    [SkippableFact]
    public void Length_514_with_513_octets_present_gives_512_slots_and_is_told()
    {
        string path = Capture(Partial);
        FrameCollector read = FrameCollector.OfFile(path);

        LinkEvent told = read.Events.Single(e => e.Kind == LinkEventKind.ArtLengthOdd);
        Assert.Equal((312L, 514L, 513L), (told.Record, told.A, told.B));
        CollectedFrame frame = read.Frames.Single(f => f.Record == 312);
        Assert.Equal(FrameFlags.Broadcast, frame.Flags);
        using ICaptureSource source = CaptureFile.Open(path);
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            if (record.Number == 312)
            {
                // 14 octets of Ethernet, 20 of IPv4, 8 of UDP, 18 of ArtDmx, then 513 of which 512 can be slots.
                Assert.Equal(60 + 513, record.Data.Length);
                Assert.Equal(record.Data[60..572].ToArray(), frame.Slots);
            }
        }

        Assert.Equal((0L, 0L), (read.Decoder.CountsOf(0).Malformed, read.Decoder.CountsOf(0).CutBySnapLength));
    }

    [SkippableFact]
    public void A_sequence_that_is_always_0_is_not_counted()
    {
        SurveySnapshot survey = Survey(Partial);

        StreamSummary[] streams = [.. survey.Universes.SelectMany(universe => universe.Streams)];
        Assert.Equal(324, streams.Sum(stream => stream.Frames));
        Assert.All(streams, stream => Assert.Equal(new(0, 0, 0, 0, 0), stream.Sequence));
    }

    [SkippableFact]
    public void Slot_counts_that_change_within_a_stream_are_all_listed()
    {
        SurveySnapshot survey = Survey(Partial);

        IEnumerable<CountOf> counts = survey.Universes.SelectMany(universe => universe.SlotCounts)
            .GroupBy(count => count.Value).OrderBy(group => group.Key)
            .Select(group => new CountOf(group.Key, group.Sum(count => count.Count)));

        Assert.Equal([new(2, 64), new(6, 61), new(8, 2), new(100, 61), new(512, 136)], counts);
        Assert.Equal([0, 1, 2, 3, 16, 256], survey.Universes.Select(universe => universe.Id.Number));
        Assert.Equal([new CountOf(ArtTrigger, 1)], survey.OtherOpCodes);
    }

    [SkippableFact]
    public void Frames_behind_one_and_two_vlan_tags_are_read()
    {
        const string Name = "gen_artnet_vlan20_qinq.pcap";
        int doubleTagged = 0;
        using (ICaptureSource source = CaptureFile.Open(Capture(Name)))
        {
            while (source.Read(out CaptureRecord record) == ReadStatus.Record)
            {
                Assert.True(NetworkDatagram.TryParse(record.LinkType, record.Data, out NetworkDatagram datagram, out _));
                Assert.Equal(20, datagram.VlanId);
                doubleTagged += record.Data[12] == 0x88 ? 1 : 0;
            }
        }

        Assert.Equal(20, doubleTagged);
        AssertFrames(Name, (0, 41), (0x102, 19));
    }

    [SkippableFact]
    public void Linux_cooked_records_of_version_2_are_read()
    {
        const string Name = "gen_artnet_any_sll2.pcap";
        using ICaptureSource source = CaptureFile.Open(Capture(Name));

        Assert.Equal(ReadStatus.Record, source.Read(out CaptureRecord record));
        Assert.Equal(LinkType.LinuxSll2, record.LinkType);
        AssertFrames(Name, (0, 114), (0x102, 55));
    }

    [SkippableFact]
    public void Frames_of_a_loopback_interface_are_read() => AssertFrames("gen_artnet_loopback.pcap", (5, 61));

    private static void AssertFrames(string capture, params (int PortAddress, long Frames)[] expected)
    {
        SurveySnapshot survey = Survey(capture);

        Assert.Equal(expected, survey.Universes.Select(universe => (universe.Id.Number, universe.Frames)));
        Assert.All(survey.Universes, universe => Assert.Equal(UniverseProtocol.ArtNet, universe.Id.Protocol));
        Assert.Equal(0, survey.Inputs.Sum(input => input.Malformed + input.OtherTraffic));
    }

    private static UniverseSummary Universe(SurveySnapshot survey, int portAddress) =>
        survey.Universes.Single(universe => universe.Id == new UniverseId(UniverseProtocol.ArtNet, portAddress));

    private static SurveySnapshot Survey(string capture)
    {
        using ICaptureSource source = CaptureFile.Open(Capture(capture));
        return Surveyor.Run(source, CancellationToken.None);
    }

    private static string Capture(string name)
    {
        string? path = Places.SharedFile("captures", "net", name);
        Skip.If(path is null, Places.NoShared);
        return path;
    }
}
