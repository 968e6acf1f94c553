using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Survey;
using DmxProbe.Capture.Files;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Files;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>What is special about the sACN recordings; figures from PROVENANCE.md beside them and from tshark 4.0.17.</summary>
public class SacnRecordingsTests
{
    private const string TwoSources = "gen_sacn_two_sources_terminate.pcap";
    private const string Loopback = "real_sacn_loopback_null_u1.pcapng";
    private const string FourPackets = "real_sacn_data_sync_discovery_4pk.pcapng";

    [SkippableFact]
    public void Priority_of_the_second_source_goes_from_50_to_150_and_back()
    {
        string reference = Present(DissectorReference.PathOf(TwoSources));
        SurveySnapshot survey = Survey(TwoSources);
        DissectedFrame[] backup = [.. DissectorReference.Read(reference).Frames.Where(frame => frame.Name == "Backup B")];
        Timestamp At(long record) => backup.Single(frame => frame.Record == record).Time;

        StreamSummary stream = Stream(survey, 1, "Backup B");

        Assert.Equal("4241434b-5550-2d42-2d43-49442d303032", stream.Sender.Cid);
        Assert.Equal(
            [
                new PrioritySpan(50, At(61), At(288)),
                new PrioritySpan(150, At(292), At(517)),
                new PrioritySpan(50, At(521), At(774)),
            ],
            stream.Priorities);
        Assert.Equal(100, Stream(survey, 1, "Desk A").Priorities.Single().Value);
    }

    [SkippableFact]
    public void The_universe_obeys_the_second_source_only_while_its_priority_is_higher()
    {
        SurveySnapshot survey = Survey(TwoSources);
        UniverseSummary universe = Universe(survey, 1);

        IEnumerable<string> inCharge = universe.Obeyed.Select(span => string.Join(
            '+', span.Senders.Select(index => universe.Streams.Single(s => s.Sender.Index == index).Sender.Name)));

        Assert.Equal(["Desk A", "Backup B", "Desk A"], inCharge);
        Assert.Equal([100, 150, 100], universe.Obeyed.Select(span => span.Priority));
    }

    [SkippableFact]
    public void Universe_3_ends_with_three_termination_packets_that_are_no_levels()
    {
        StreamSummary stream = Stream(Survey(TwoSources), 3, "Desk A");

        Assert.Equal((157, 154, 3), (stream.Frames, stream.LevelFrames, stream.Terminations));
        Assert.True(stream.Terminated);
        Assert.False(stream.Silent);
        Assert.Equal(new(157, 0, 0, 0, 0), stream.Sequence); // they count in the sequence (E1.31-2018 section 6.2.6)
    }

    [SkippableTheory]
    [InlineData(1, "Desk A", 231)]
    [InlineData(1, "Backup B", 193)]
    [InlineData(2, "Desk A", 231)]
    public void Universes_1_and_2_end_without_termination(int universe, string name, long frames)
    {
        StreamSummary stream = Stream(Survey(TwoSources), universe, name);

        Assert.Equal((frames, frames, 0), (stream.Frames, stream.LevelFrames, stream.Terminations));
        Assert.False(stream.Terminated);
        Assert.False(stream.Silent); // the capture ends before the 2.5 s of data loss
        Assert.Equal(new(frames, 0, 0, 0, 0), stream.Sequence);
        Assert.Equal([new CountOf(512, frames)], stream.SlotCounts);
    }

    [SkippableFact]
    public void A_loopback_record_longer_by_its_length_field_alone_is_not_cut()
    {
        string path = Capture(Loopback);
        using (ICaptureSource source = CaptureFile.Open(path))
        {
            while (source.Read(out CaptureRecord record) == ReadStatus.Record)
            {
                Assert.Equal((LinkType.Null, 318, 161), (record.LinkType, record.OriginalLength, record.Data.Length));
            }
        }

        SurveySnapshot survey = Survey(Loopback);

        InputSummary input = survey.Inputs.Single();
        Assert.Equal((110, 0, 0), (input.Records, input.CutBySnapLength, input.Malformed));
        StreamSummary stream = Stream(survey, 1, "Controller");
        Assert.Equal((110, 0), (stream.Frames, stream.CutFrames));
        Assert.Equal([new CountOf(3, 110)], stream.SlotCounts);
        Assert.InRange(stream.RateHz!.Value, 109 / 54.605971 - 0.001, 109 / 54.605971 + 0.001); // times: tshark
        Assert.DoesNotContain(survey.Findings, finding => finding.Text.Contains("snap", StringComparison.OrdinalIgnoreCase));
    }

    [SkippableFact]
    public void The_three_slots_of_a_loopback_record_are_its_last_octets()
    {
        // 161 octets: 4 of loopback header, 20 of IPv4, 8 of UDP, 126 up to the START code, 3 slots.
        string path = Capture(Loopback);
        FrameCollector read = FrameCollector.OfFile(path);
        using ICaptureSource source = CaptureFile.Open(path);

        foreach (CollectedFrame frame in read.Frames)
        {
            Assert.Equal(ReadStatus.Record, source.Read(out CaptureRecord record));
            Assert.Equal(record.Data[158..161].ToArray(), frame.Slots);
            Assert.Equal([0, 1, 2], frame.Slots); // seen in a hex dump of every record
        }
    }

    // Records 3 and 4 by hand: the dissector leaves root vector 8 undecoded and shows the octets only.
    [SkippableFact]
    public void Synchronization_and_discovery_are_read_beside_the_data_they_belong_to()
    {
        FrameCollector read = FrameCollector.OfFile(Capture(FourPackets));
        SurveySnapshot survey = Survey(FourPackets);

        Assert.Equal([4, 4], read.Frames.Select(frame => (int)frame.SyncAddress));
        Assert.Equal([15, 15], read.Frames.Select(frame => frame.Slots.Length));
        LinkEvent sync = read.Events[0];
        Assert.Equal((LinkEventKind.SacnSync, 3L, 4L, 0x42L), (sync.Kind, sync.Record, sync.A, sync.B));
        LinkEvent discovery = read.Events[1];
        Assert.Equal((LinkEventKind.SacnDiscovery, 4L, 0L, 0L), (discovery.Kind, discovery.Record, discovery.A, discovery.B));
        Assert.Equal(2, read.Events.Count); // no rule is broken, each group is the right one
        Assert.Equal([new CountOf(4, 1)], survey.SyncPackets);
        DiscoverySummary list = survey.Discovery.Single();
        Assert.Equal([1, 2, 4], list.Universes);
        Assert.Equal(("Test Source", true, 1), (list.Sender.Name, list.Complete, list.Packets));
        Assert.Equal("ef07c8dd-0064-4401-a3a2-459ef8e6143e", list.Sender.Cid);
    }

    [SkippableTheory]
    [InlineData(TwoSources)]
    [InlineData(Loopback)]
    [InlineData(FourPackets)]
    public void No_rule_of_the_standard_is_found_broken_where_none_is(string capture)
    {
        SurveySnapshot survey = Survey(capture);

        Assert.Equal(0, survey.Inputs.Sum(input => input.Malformed + input.CutBySnapLength + input.OtherTraffic));
        Assert.DoesNotContain(survey.Events, count => count.Kind == LinkEventKind.SacnRule);
    }

    private static UniverseSummary Universe(SurveySnapshot survey, int number) =>
        survey.Universes.Single(universe => universe.Id == new UniverseId(UniverseProtocol.Sacn, number));

    private static StreamSummary Stream(SurveySnapshot survey, int universe, string name) =>
        Universe(survey, universe).Streams.Single(stream => stream.Sender.Name == name);

    private static SurveySnapshot Survey(string capture)
    {
        using ICaptureSource source = CaptureFile.Open(Capture(capture));
        return Surveyor.Run(source, CancellationToken.None);
    }

    private static string Capture(string name) => Present(Places.SharedFile("captures", "net", name));

    private static string Present(string? path)
    {
        Skip.If(path is null, Places.NoShared);
        return path;
    }
}
