using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Loss;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Timing;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Analysis.Tests.Findings;

/// <summary>Each rule on snapshots made by hand: what it says, how much it matters, and that it keeps quiet otherwise.</summary>
public class SurveyRulesTests
{
    private static readonly Timestamp Start = Timestamp.FromUnixNanoseconds(1_773_517_260_000_000_000);
    private static readonly UniverseId Sacn = new(UniverseProtocol.Sacn, 2);
    private static readonly UniverseId ArtNet = new(UniverseProtocol.ArtNet, 5);

    [Theory]
    [InlineData(UniverseProtocol.Sacn)]
    [InlineData(UniverseProtocol.ArtNet)]
    public void One_healthy_sender_gives_no_finding(UniverseProtocol protocol) =>
        Assert.Empty(SurveyRules.Judge(Survey(Universe(new UniverseId(protocol, 2), Stream(protocol)))));

    // Shares: common practice, no source. Too few packets: one jump may be a restarted count (E1.31-2018 6.7.2).
    [Theory]
    [InlineData(10_000, 5, 0, Severity.Info)]
    [InlineData(10_000, 50, 0, Severity.Warning)]
    [InlineData(10_000, 500, 0, Severity.Fault)]
    [InlineData(10_000, 500, 3, Severity.Info)]
    [InlineData(5, 107, 0, Severity.Info)]
    public void Lost_packets_weigh_by_their_share_unless_few_came_or_the_capture_lost_some(
        long counted, long lost, long lostByCapture, Severity severity)
    {
        StreamSummary stream = Stream(UniverseProtocol.Sacn) with { Sequence = new SequenceStatistics(counted, lost, 0, 0, 0) };
        Finding finding = One("lost-packets", Survey(lostByCapture, Universe(Sacn, stream)));
        Assert.Equal(severity, finding.Severity);
        Assert.Contains(lost.ToString("N0", null), finding.Text, StringComparison.Ordinal);
        Assert.Equal(lostByCapture > 0, finding.Text.Contains("not to blame", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(UniverseProtocol.Sacn, "E1.31-2018 6.2.5 and 6.7.2")]
    [InlineData(UniverseProtocol.ArtNet, "Art-Net 4 (1.4dn) page 74: 1 to 255 and round again, or 0")]
    public void A_sequence_that_never_changes_is_a_fault_with_the_source_of_its_protocol(UniverseProtocol protocol, string source)
    {
        StreamSummary stream = Stream(protocol) with { Sequence = new SequenceStatistics(100, 0, 0, 99, 0) };
        Finding finding = One("sequence-stuck", Survey(Universe(new UniverseId(protocol, 5), stream)));
        Assert.Equal(Severity.Fault, finding.Severity);
        Assert.Equal(source, finding.LimitSource);
    }

    // A restarted source leaves its old identity behind for 2.5 s (E1.31-2018 6.7.1).
    [Theory]
    [InlineData(2500, Severity.Info)]
    [InlineData(60_000, Severity.Fault)]
    public void Senders_at_one_priority_are_a_fault_but_a_hand_over_is_not(int milliseconds, Severity severity)
    {
        UniverseSummary universe = Universe(Sacn, Stream(UniverseProtocol.Sacn), Stream(UniverseProtocol.Sacn, 1)) with
        {
            Obeyed = [new ObeyedSpan(Start, Start + Duration.FromMilliseconds(milliseconds), [0, 1], 100)],
        };
        Finding finding = One("senders-at-equal-priority", Survey(universe));
        Assert.Equal(severity, finding.Severity);
        Assert.Equal(severity == Severity.Fault, finding.Cautions.Count > 0);
    }

    // Art-Net 4 (1.4dn) pages 76 and 77: two are merged, further ones ignored.
    [Theory]
    [InlineData(2, Severity.Warning)]
    [InlineData(3, Severity.Fault)]
    public void Two_art_net_senders_are_a_warning_and_three_a_fault(int senders, Severity severity)
    {
        int[] indexes = [.. Enumerable.Range(0, senders)];
        UniverseSummary universe = Universe(ArtNet, [.. indexes.Select(index => Stream(UniverseProtocol.ArtNet, index))]) with
        {
            Obeyed = [new ObeyedSpan(Start, Start + Duration.FromSeconds(60), indexes, -1)],
        };
        Assert.Equal(severity, One("several-art-net-senders", Survey(universe)).Severity);
    }

    [Fact]
    public void A_take_over_by_priority_is_told_with_its_turns()
    {
        UniverseSummary universe = Universe(Sacn, Stream(UniverseProtocol.Sacn), Stream(UniverseProtocol.Sacn, 1)) with
        {
            Obeyed =
            [
                new ObeyedSpan(Start, Start + Duration.FromSeconds(2), [0], 100),
                new ObeyedSpan(Start + Duration.FromSeconds(2), Start + Duration.FromSeconds(5), [1], 150),
            ],
        };
        Finding finding = One("obeyed-sender-changed", Survey(universe));
        Assert.Equal(Severity.Info, finding.Severity);
        Assert.Contains("'sender 1' (10.0.0.2) at priority 150 for 3.00 s", finding.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_sender_that_stops_is_a_warning_in_the_words_of_its_protocol()
    {
        Finding sacn = One("sender-stopped", Survey(Universe(Sacn, Stream(UniverseProtocol.Sacn) with { Silent = true })));
        Finding artNet = One("sender-stopped", Survey(Universe(ArtNet, Stream(UniverseProtocol.ArtNet) with { Silent = true })));
        Assert.Contains("without ending its stream", sacn.Text, StringComparison.Ordinal);
        Assert.Contains("devices go on with its last levels", artNet.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1, "three are to be sent")]
    [InlineData(3, "ended its stream with 3 termination packets.")]
    public void A_stream_that_ends_is_told_and_fewer_than_three_packets_are_named(long packets, string words)
    {
        StreamSummary stream = Stream(UniverseProtocol.Sacn) with { Terminations = packets, Terminated = true };
        Assert.Contains(words, One("stream-ended", Survey(Universe(Sacn, stream))).Text, StringComparison.Ordinal);
    }

    // 800 to 1000 ms: E1.31-2018 6.6.2; about 4 s: Art-Net 4 (1.4dn) page 72.
    [Theory]
    [InlineData(UniverseProtocol.Sacn, 900, null)]
    [InlineData(UniverseProtocol.Sacn, 1500, "keep-alive-slow")]
    [InlineData(UniverseProtocol.Sacn, 500, "keep-alive-fast")]
    [InlineData(UniverseProtocol.ArtNet, 4000, null)]
    [InlineData(UniverseProtocol.ArtNet, 5000, "keep-alive-slow")]
    public void Keep_alive_is_held_against_the_limit_of_its_protocol(UniverseProtocol protocol, int milliseconds, string? id)
    {
        Duration each = Duration.FromMilliseconds(milliseconds);
        StreamSummary stream = Stream(protocol) with
        {
            KeepAlive = each,
            KeepAliveIntervals = new IntervalStatistics(20, each, each, each, each, each, each),
        };
        string[] found = [.. SurveyRules.Judge(Survey(Universe(new UniverseId(protocol, 5), stream))).Select(finding => finding.Id)];
        Assert.Equal(id is null ? [] : [id], found);
    }

    [Fact]
    public void One_cid_from_two_addresses_is_a_warning_but_ipv4_with_ipv6_is_not()
    {
        StreamSummary stream = Stream(UniverseProtocol.Sacn);
        Finding finding = One(
            "one-cid-several-addresses",
            Survey(Universe(Sacn, stream with { Sender = stream.Sender with { Addresses = ["10.0.0.1", "10.0.0.9"] } })));
        Assert.Equal(Severity.Warning, finding.Severity);
        Assert.Empty(SurveyRules.Judge(
            Survey(Universe(Sacn, stream with { Sender = stream.Sender with { Addresses = ["10.0.0.1", "2001:db8::1"] } }))));
    }

    [Theory]
    [InlineData(LinkEventKind.ArtLengthOdd, 514, 513, "art-net-length", Severity.Warning)]
    [InlineData(LinkEventKind.ArtLengthOdd, 511, 511, "art-net-length", Severity.Info)]
    [InlineData(LinkEventKind.SacnRule, (int)SacnRule.Priority, 201, "sacn-priority-over-200", Severity.Warning)]
    [InlineData(LinkEventKind.SacnRule, (int)SacnRule.Group, 3, "sacn-wrong-group", Severity.Fault)]
    [InlineData(LinkEventKind.SacnRule, (int)SacnRule.Discarded, 0, "sacn-discarded-by-receivers", Severity.Fault)]
    public void Packets_that_break_a_rule_become_a_finding_with_their_record(
        LinkEventKind kind, long a, long b, string id, Severity severity)
    {
        UniverseId universe = kind == LinkEventKind.SacnRule ? Sacn : ArtNet;
        SurveySnapshot survey = Survey(Universe(universe, Stream(universe.Protocol))) with
        {
            Events = [new EventCount(kind, a, b, universe, null, 1, Start, Start, 312, a)],
        };
        Finding finding = One(id, survey);
        Assert.Equal(severity, finding.Severity);
        Assert.Equal(312, finding.FirstRecord);
    }

    [Fact]
    public void Findings_come_worst_first_and_an_empty_capture_says_so()
    {
        StreamSummary stream = Stream(UniverseProtocol.Sacn) with
        {
            Sequence = new SequenceStatistics(100, 0, 0, 99, 0),
            Terminations = 3,
            DraftFrames = 1,
        };
        Severity[] order = [.. SurveyRules.Judge(Survey(Universe(Sacn, stream))).Select(finding => finding.Severity)];
        Assert.Equal([Severity.Fault, Severity.Warning, Severity.Info], order);
        Assert.Equal(Severity.Warning, One("no-levels", Survey()).Severity);
    }

    // A merged count is a record number in none of the files.
    [Fact]
    public void A_record_number_is_said_of_one_input_and_not_of_several_merged()
    {
        SurveySnapshot survey = Survey(Universe(Sacn, Stream(UniverseProtocol.Sacn) with { DraftFrames = 1 }));
        Assert.Contains(SurveyRules.Judge(survey), finding => finding.FirstRecord == 1);
        Assert.All(SurveyRules.Judge(survey with { Inputs = [.. survey.Inputs, .. survey.Inputs] }), finding => Assert.Equal(0, finding.FirstRecord));
    }

    private static Finding One(string id, SurveySnapshot survey) =>
        Assert.Single(SurveyRules.Judge(survey), finding => finding.Id == id);

    private static SurveySnapshot Survey(params UniverseSummary[] universes) => Survey(0, universes);

    private static SurveySnapshot Survey(long lostByCapture, params UniverseSummary[] universes) => new()
    {
        Inputs = [new InputSummary { Name = "capture", Records = 100, First = Start, Last = Start, LostByCapture = lostByCapture }],
        Universes = universes,
        Nodes = [],
        Discovery = [],
        Findings = [],
    };

    private static UniverseSummary Universe(UniverseId id, params StreamSummary[] streams) => new()
    {
        Id = id,
        Frames = streams.Sum(stream => stream.Frames),
        SlotCounts = [new CountOf(512, 100)],
        Streams = streams,
        Obeyed = [new ObeyedSpan(Start, Start + Duration.FromSeconds(60), [0], id.Protocol == UniverseProtocol.Sacn ? 100 : -1)],
    };

    private static StreamSummary Stream(UniverseProtocol protocol, int index = 0) => new()
    {
        Sender = new SenderSummary
        {
            Index = index,
            Protocol = protocol,
            Name = $"sender {index}",
            Address = $"10.0.0.{index + 1}",
            Addresses = [$"10.0.0.{index + 1}"],
        },
        First = Start,
        Last = Start + Duration.FromSeconds(60),
        FirstRecord = 1,
        Frames = 100,
        LevelFrames = 100,
        Sequence = new SequenceStatistics(100, 0, 0, 0, 0),
        SlotCounts = [new CountOf(512, 100)],
        StartCodes = [new CountOf(0, 100)],
    };
}
