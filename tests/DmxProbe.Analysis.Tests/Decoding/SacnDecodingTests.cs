using System.Net;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Wire;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>
/// Constructed sACN packets through the decoder: what becomes a frame, an event, or is refused. Section numbers: E1.31-2018.
/// Packets that real senders got wrong are marked "real fault".
/// </summary>
public class SacnDecodingTests
{
    private const int AnotherPort = 50000;
    private static readonly Host From = Host.At("a", "192.0.2.10");
    private static readonly Host To = Host.At("b", "192.0.2.20");
    private static readonly byte[] CidOctets = SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e");

    [Theory]
    [InlineData(108, new byte[] { 201 }, SacnRule.Priority, 201)]
    [InlineData(113, new byte[] { 0, 0 }, SacnRule.Universe, 0)]
    [InlineData(113, new byte[] { 0xFA, 0x00 }, SacnRule.Universe, 64000)]
    [InlineData(121, new byte[] { 0, 2 }, SacnRule.Discarded, 121)]
    [InlineData(117, new byte[] { 3 }, SacnRule.Discarded, 117)]
    [InlineData(0, new byte[] { 0, 1 }, SacnRule.Discarded, 0)] // real fault: preamble 00 01
    [InlineData(16, new byte[] { 0x70, 0x72 }, SacnRule.FlagsAndLength, 129)]
    public void A_broken_rule_is_told_once_and_the_frame_is_kept(int offset, byte[] octets, SacnRule rule, long found)
    {
        byte[] packet = Data();
        octets.CopyTo(packet, offset);
        int universe = (packet[113] << 8) | packet[114];

        FrameCollector read = new FrameCollector().Take(ToGroup(packet, universe));

        LinkEvent told = Assert.Single(read.Events);
        Assert.Equal((LinkEventKind.SacnRule, (long)rule, found), (told.Kind, told.A, told.B));
        Assert.Equal([255, 128, 1], Assert.Single(read.Frames).Slots);
        Assert.Equal(0, read.Decoder.CountsOf(0).Malformed);
    }

    [Fact]
    public void A_packet_that_keeps_every_rule_is_a_frame_and_nothing_else()
    {
        FrameCollector read = new FrameCollector().Take(ToGroup(Data(), 1));

        CollectedFrame frame = Assert.Single(read.Frames);
        Assert.Equal((1, 100, 0, 0), ((int)frame.Sequence, (int)frame.Priority, (int)frame.SyncAddress, (int)frame.StartCode));
        Assert.Empty(read.Events);
    }

    [Theory]
    [InlineData(2, 2)]
    [InlineData(0xFF07, 0xFF07)] // 239.255.255.7: a group that is never transmitted (section 9.1.1)
    public void A_packet_sent_to_the_group_of_another_universe_is_told(int group, long heardBy)
    {
        FrameCollector read = new FrameCollector().Take(ToGroup(Data(), group));

        LinkEvent told = Assert.Single(read.Events);
        Assert.Equal((LinkEventKind.SacnRule, (long)SacnRule.Group, heardBy), (told.Kind, told.A, told.B));
        Assert.Equal(1, Assert.Single(read.Frames).Universe.Number); // the number in the packet counts, never the group
    }

    [Fact]
    public void The_ipv6_group_of_a_misread_text_is_told()
    {
        UdpPath path = UdpPath.ToSacnGroup(From, 1, ipv6: true) with { Destination = IPAddress.Parse("ff18::83:0:0:1") };

        FrameCollector read = new FrameCollector().Take(UdpFrames.Build(path, Data()));

        LinkEvent told = Assert.Single(read.Events);
        Assert.Equal((LinkEventKind.SacnRule, (long)SacnRule.MisreadGroup), (told.Kind, told.A));
    }

    [Fact]
    public void Unicast_to_another_port_is_found_by_its_content()
    {
        FrameCollector read = new FrameCollector().Take(UdpFrames.Build(UdpPath.Unicast(From, To, AnotherPort), Data()));

        Assert.Single(read.Frames);
        Assert.Empty(read.Events);
    }

    [Theory]
    [InlineData(SacnPackets.Port, 1, 0)]
    [InlineData(AnotherPort, 0, 1)]
    public void Another_identifier_is_malformed_on_a_lighting_port_and_other_traffic_elsewhere(
        int port, long malformed, long other)
    {
        byte[] packet = Data();
        "ACN"u8.CopyTo(packet.AsSpan(4)); // it is "ASC"

        FrameCollector read = new FrameCollector().Take(UdpFrames.Build(UdpPath.Unicast(From, To, port), packet));

        Assert.Empty(read.Frames);
        InputCounts counts = read.Decoder.CountsOf(0);
        Assert.Equal((malformed, other), (counts.Malformed, counts.OtherTraffic));
    }

    [Fact]
    public void Framing_vector_2_under_root_8_is_discovery_and_never_data()
    {
        byte[] list = SacnPackets.Discovery(CidOctets, "Source_A", [1, 2, 7962]);

        FrameCollector read = new FrameCollector().Take(ToGroup(list, SacnPackets.DiscoveryUniverse));

        Assert.Empty(read.Frames);
        Assert.Equal(LinkEventKind.SacnDiscovery, Assert.Single(read.Events).Kind);
        Assert.Equal([1, 2, 7962], Assert.Single(read.Decoder.Discovery.Snapshot(read.Decoder.Senders)).Universes);
    }

    [Fact]
    public void Framing_vector_1_under_root_4_is_unknown_and_no_damage()
    {
        byte[] packet = Data();
        packet[43] = 1;

        FrameCollector read = new FrameCollector().Take(ToGroup(packet, 1));

        LinkEvent told = Assert.Single(read.Events);
        Assert.Equal((LinkEventKind.SacnRule, (long)SacnRule.Vector, (4L << 32) | 1), (told.Kind, told.A, told.B));
        Assert.Empty(read.Frames);
        Assert.Equal(0, read.Decoder.CountsOf(0).Malformed);
    }

    [Fact]
    public void Synchronization_address_0_is_told()
    {
        FrameCollector read = new FrameCollector()
            .Take(UdpFrames.Build(UdpPath.Unicast(From, To, SacnPackets.Port), SacnPackets.Sync(CidOctets, 0, 9)));

        Assert.Equal([LinkEventKind.SacnSync, LinkEventKind.SacnRule], read.Events.Select(e => e.Kind));
        Assert.Equal((long)SacnRule.SyncAddress, read.Events[1].A);
    }

    [Theory]
    [InlineData(0xDD)] // real fault: priorities of slots taken as levels, so that everything flashes at 100
    [InlineData(0xCC)] // real fault: RDM taken as levels
    public void Another_start_code_keeps_its_number(int startCode)
    {
        FrameCollector read = new FrameCollector().Take(ToGroup(Data(startCode: startCode), 1));

        Assert.Equal(startCode, Assert.Single(read.Frames).StartCode);
    }

    [Fact]
    public void A_name_without_its_zero_octet_is_told()
    {
        byte[] packet = Data();
        packet.AsSpan(44, 64).Fill((byte)'x');

        FrameCollector read = new FrameCollector().Take(ToGroup(packet, 1));

        Assert.Equal((long)SacnRule.SourceName, Assert.Single(read.Events).A);
        Assert.Equal(new string('x', 64), read.Decoder.Senders.Describe(0).Name);
    }

    [Fact]
    public void Slots_cut_by_the_snap_length_are_the_captures_loss_and_not_the_senders_fault()
    {
        byte[] whole = ToGroup(Data(), 1);

        FrameCollector read = new FrameCollector().Take(whole[..^1], originalLength: whole.Length);

        CollectedFrame frame = Assert.Single(read.Frames);
        Assert.Equal([255, 128], frame.Slots);
        Assert.True(frame.Flags.HasFlag(FrameFlags.SlotsCut));
        Assert.Equal((1L, 0L), (read.Decoder.CountsOf(0).CutBySnapLength, read.Decoder.CountsOf(0).Malformed));
    }

    [Fact]
    public void Slots_that_the_sender_left_out_are_the_senders_fault()
    {
        FrameCollector read = new FrameCollector().Take(ToGroup(Data()[..^1], 1));

        Assert.Equal([255, 128], Assert.Single(read.Frames).Slots);
        Assert.Equal((0L, 1L), (read.Decoder.CountsOf(0).CutBySnapLength, read.Decoder.CountsOf(0).Malformed));
        Assert.Contains(read.Events, e => e.Kind == LinkEventKind.Malformed && e.A == (long)WireErrorKind.Truncated);
    }

    [Fact]
    public void The_draft_before_the_standard_is_read_and_marked()
    {
        FrameCollector read = new FrameCollector()
            .Take(ToGroup(SacnPackets.Draft(CidOctets, "Source_A", 1, 9, [1, 2, 3, 4, 5, 6, 7, 8]), 1));

        CollectedFrame frame = Assert.Single(read.Frames);
        Assert.Equal([1, 2, 3, 4, 5, 6, 7, 8], frame.Slots);
        Assert.Equal(FrameFlags.SequenceCounted | FrameFlags.Draft, frame.Flags);
    }

    private static byte[] Data(int startCode = 0) =>
        SacnPackets.Data(CidOctets, "Source_A", 1, 1, [255, 128, 1], startCode: startCode);

    private static byte[] ToGroup(byte[] packet, int universe) => UdpFrames.Build(UdpPath.ToSacnGroup(From, universe), packet);
}
