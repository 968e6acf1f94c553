using System.Net;
using DmxProbe.Analysis.Conformance;
using DmxProbe.Analysis.Findings;
using DmxProbe.Analysis.Survey;
using DmxProbe.Analysis.Tests.Network;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Conformance;

/// <summary>The rules of E1.31-2018 as a table: one octet changed in a conforming packet, and the one finding it gives.</summary>
public class SacnRuleTests
{
    // Offsets: Table 4-1. What the clause says is in the comment; every clause was read in the text.
    [Theory]
    [InlineData(0, 0x11, "sacn-discarded-by-receivers", Severity.Fault)] // 5.1: preamble 0x0010
    [InlineData(3, 0x01, "sacn-discarded-by-receivers", Severity.Fault)] // 5.2: post-amble 0
    [InlineData(16, 0x62, "sacn-flags-and-length", Severity.Info)] // 5.4: flags 7
    [InlineData(39, 0x59, "sacn-flags-and-length", Severity.Info)] // 6.1: length from octet 38
    [InlineData(116, 0x0C, "sacn-flags-and-length", Severity.Info)] // 7.1: length from octet 115
    [InlineData(108, 201, "sacn-priority-over-200", Severity.Warning)] // 6.2.3
    [InlineData(108, 200, null, Severity.Info)] // 6.2.3: 200 is allowed
    [InlineData(108, 0, null, Severity.Info)] // 6.2.3: 0 is the lowest
    [InlineData(112, 0x01, "sacn-reserved-options", Severity.Info)] // 6.2.6: bits 0 to 4 are 0
    [InlineData(112, 0x10, "sacn-reserved-options", Severity.Info)]
    [InlineData(117, 0x03, "sacn-discarded-by-receivers", Severity.Fault)] // 7.2: vector 2
    [InlineData(118, 0xA2, "sacn-discarded-by-receivers", Severity.Fault)] // 7.3: A1h
    [InlineData(120, 0x01, "sacn-discarded-by-receivers", Severity.Fault)] // 7.4: address 0
    [InlineData(122, 0x02, "sacn-discarded-by-receivers", Severity.Fault)] // 7.5: increment 1
    [InlineData(44, 0xFF, "sacn-name-not-utf8", Severity.Info)] // 6.2.2: UTF-8
    public void One_changed_octet_gives_one_finding(int offset, int value, string? id, Severity severity)
    {
        SurveySnapshot survey = Change(Payload(), payload => payload[offset] = (byte)value);

        Assert.Equal(id is null ? [] : [id], survey.Ids());
        if (id is not null)
        {
            Finding finding = survey.One(id);
            Assert.Equal((severity, RuleBook.SourceOf(id)), (finding.Severity, finding.LimitSource));
            Assert.Equal(1, finding.FirstRecord);
        }
    }

    // 9.1.1: 1 to 63999 carry data; 9.3: each its own group.
    [Theory]
    [InlineData(0, "sacn-reserved-universe")]
    [InlineData(63999, null)]
    [InlineData(64000, "sacn-reserved-universe")]
    [InlineData(65535, "sacn-reserved-universe")]
    public void A_universe_outside_1_to_63999_is_told(int universe, string? id)
    {
        SurveySnapshot survey = new FrameSource().Every(0, 1, 0.025, i => Wire.Sacn(i, universe)).Survey();
        Assert.Equal(id is null ? [] : [id], survey.Ids());
    }

    [Theory]
    [InlineData("239.255.0.2", 5568, "sacn-wrong-group", Severity.Fault)] // 9.3.1: the group of another universe
    [InlineData("239.1.1.1", 5568, "sacn-wrong-group", Severity.Fault)] // a group of no universe
    [InlineData("239.255.0.1", 5569, "sacn-wrong-port", Severity.Fault)] // 9.1.1: multicast to 5568
    [InlineData("10.20.0.21", 5569, null, Severity.Info)] // 9.1.1: unicast may use another port
    [InlineData("255.255.255.255", 5568, "sacn-broadcast", Severity.Info)] // 9: not described
    [InlineData("ff18::8300:1", 5568, null, Severity.Info)] // Table 9-12
    [InlineData("ff18::83:0:0:1", 5568, "sacn-misread-ipv6-group", Severity.Fault)] // the running text of 9.3.2
    [InlineData("ff18::8300:2", 5568, "sacn-wrong-group", Severity.Fault)]
    public void Where_a_packet_goes_is_held_against_its_universe(string to, int port, string? id, Severity severity)
    {
        IPAddress address = IPAddress.Parse(to);
        bool ipv6 = to.Contains(':', StringComparison.Ordinal);
        UdpPath path = UdpPath.ToSacnGroup(Wire.Desk, 1, ipv6) with { Destination = address, DestinationPort = port };
        SurveySnapshot survey = new FrameSource()
            .Every(0, 1, 0.025, i => UdpFrames.Build(path, SacnPackets.Data(Wire.Cid, "Source_A", 1, i, Wire.Slots(i)), i + 1))
            .Survey();

        Assert.Equal(id is null ? [] : [id], survey.Ids());
        Assert.All(survey.Findings, finding => Assert.Equal(severity, finding.Severity));
    }

    [Fact]
    public void A_name_without_its_zero_octet_is_told() // 6.2.2
    {
        Assert.Equal(["sacn-name-unterminated"], Change(Payload(), payload => payload.AsSpan(44, 64).Fill((byte)'a')).Ids());
    }

    // Tables 4-2 and 4-3.
    [Theory]
    [InlineData(47, 1, "sacn-reserved-octets")] // 6.3.4
    [InlineData(39, 0x0A, "sacn-flags-and-length")] // 6.1
    public void A_changed_octet_of_a_synchronization_packet_gives_one_finding(int offset, int value, string id)
    {
        byte[] payload = SacnPackets.Sync(Wire.Cid, 7, 1);
        payload[offset] = (byte)value;
        SurveySnapshot survey = Levels(7).At(0.1, UdpFrames.Build(UdpPath.ToSacnGroup(Wire.Desk, 7), payload)).Survey();
        Assert.Equal([id], survey.Ids());
    }

    [Theory]
    [InlineData(111, 1, "sacn-reserved-octets")] // 6.4.3
    [InlineData(118, 1, "sacn-list-page")] // 8.3, 8.4
    [InlineData(113, 0x0D, "sacn-flags-and-length")] // 8.1
    [InlineData(121, 3, "sacn-list-not-sorted")] // 8.5
    [InlineData(122, 0xFF, "sacn-list-reserved-universe")] // 8.5, 9.1.1
    [InlineData(121, 1, null)]
    public void A_changed_octet_of_a_discovery_packet_gives_one_finding(int offset, int value, string? id)
    {
        byte[] payload = SacnPackets.Discovery(Wire.Cid, "Source_A", [1, 2]);
        payload[offset] = (byte)value;
        SurveySnapshot survey = Levels(0)
            .At(0.1, UdpFrames.Build(UdpPath.ToSacnGroup(Wire.Desk, SacnPackets.DiscoveryUniverse), payload))
            .Survey();
        Assert.Equal(id is null ? [] : [id], survey.Ids());
    }

    // E1.11, by secondary sources.
    [Theory]
    [InlineData(0x17, "alternate-start-code", Severity.Info)]
    [InlineData(0x92, "reserved-start-code", Severity.Warning)]
    [InlineData(0xCD, "reserved-start-code", Severity.Warning)]
    [InlineData(0xCE, "alternate-start-code", Severity.Info)] // the sources disagree: not called reserved
    [InlineData(0xF3, "experimental-start-code", Severity.Warning)]
    [InlineData(0xDD, "per-address-priority", Severity.Info)]
    public void A_start_code_is_told_by_what_it_is(int code, string id, Severity severity)
    {
        SurveySnapshot survey = new FrameSource()
            .Every(0, 1, 0.025, i => Wire.Sacn(i, startCode: i % 10 == 5 ? code : 0))
            .Survey();
        Assert.Equal([id], survey.Ids());
        Assert.Equal(severity, survey.One(id).Severity);
        Assert.DoesNotContain("E1.11 8", survey.One(id).LimitSource, StringComparison.Ordinal);
    }

    // The slots are no RDM message either, which is said beside it.
    [Fact]
    public void The_start_code_of_rdm_is_told_and_so_is_what_is_no_rdm_message()
    {
        SurveySnapshot survey = new FrameSource()
            .Every(0, 1, 0.025, i => Wire.Sacn(i, startCode: i % 10 == 5 ? 0xCC : 0))
            .Survey();
        Assert.Equal(Severity.Info, survey.One("alternate-start-code").Severity);
        Assert.Equal(2, survey.Ids().Length);
    }

    // 6.2.5: one count for each universe.
    [Fact]
    public void One_count_over_several_universes_is_no_loss()
    {
        SurveySnapshot survey = new FrameSource().Every(0, 4, 0.01, i => Wire.Sacn(i, universe: 1 + (i % 3))).Survey();

        Assert.Equal(["sequence-over-universes"], survey.Ids());
        Assert.Contains("sACN 1, sACN 2 and sACN 3", survey.One("sequence-over-universes").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Universes_counted_in_step_that_lose_packets_do_lose_them()
    {
        FrameSource source = new();
        for (int i = 0; i < 400; i++)
        {
            for (int universe = 1; universe <= 3; universe++)
            {
                if ((i + universe) % 2 == 0 || universe == 3)
                {
                    source.At((i * 0.025) + (universe * 0.0001), Wire.Sacn(i, universe));
                }
            }
        }

        Assert.Equal(["lost-packets"], source.Survey().Ids());
    }

    // 6.6.2: three packets with the unchanged values, then every 800 to 1000 ms.
    [Theory]
    [InlineData(3, null)]
    [InlineData(2, "repeats-before-keep-alive")]
    [InlineData(1, "repeats-before-keep-alive")]
    public void Fewer_than_three_equal_packets_before_a_keep_alive_are_told(int equal, string? id)
    {
        FrameSource source = new();
        int number = 0;
        for (int change = 0; change < 6; change++)
        {
            for (int i = 0; i < equal + 2; i++)
            {
                double time = (change * 4) + (i < equal ? i * 0.025 : (i - equal + 1) * 0.9);
                source.At(time, Equal(number++, change));
            }
        }

        Assert.Equal(id is null ? [] : [id], source.Survey().Ids().Where(each => each != "sender-fell-silent"));
    }

    private static byte[] Equal(int number, int level) => UdpFrames.Build(
        UdpPath.ToSacnGroup(Wire.Desk, 1), SacnPackets.Data(Wire.Cid, "Source_A", 1, number & 0xFF, Wire.Slots(level)), number + 1);

    private static byte[] Payload() => SacnPackets.Data(Wire.Cid, "Source_A", 1, 0, Wire.Slots(3));

    private static SurveySnapshot Change(byte[] payload, Action<byte[]> change)
    {
        change(payload);
        FrameSource source = new();
        for (int i = 0; i < 40; i++)
        {
            byte[] copy = [.. payload];
            copy[111] = (byte)i;
            copy[200] = (byte)i;
            source.At(i * 0.025, UdpFrames.Build(UdpPath.ToSacnGroup(Wire.Desk, 1), copy, i + 1));
        }

        return source.Survey();
    }

    private static FrameSource Levels(int syncAddress) =>
        new FrameSource().Every(0, 1, 0.025, i => Wire.Sacn(i, syncAddress: syncAddress));
}
