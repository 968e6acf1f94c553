using System.Net;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Decoding;

/// <summary>
/// Constructed Art-Net packets through the decoder: what becomes a frame, an event, or is refused. Page numbers: Art-Net 4,
/// 1.4dn. Packets that real senders got wrong are marked "real fault".
/// </summary>
public class ArtNetDecodingTests
{
    private static readonly Host From = Host.At("a", "10.200.0.10");
    private static readonly Host To = Host.At("b", "10.200.0.20");

    [Theory]
    [InlineData(511, 511, 511)] // odd: told, and shown all the same (page 74: should be even)
    [InlineData(513, 513, 512)]
    [InlineData(514, 513, 512)] // real fault: slot 513 set in a library
    public void A_length_that_is_not_allowed_is_told_and_its_slots_are_kept(int length, int present, int slots)
    {
        byte[] levels = [.. Enumerable.Range(0, present).Select(i => (byte)(i % 251))];

        FrameCollector read = Take(ArtNetPackets.Dmx(0x123, 5, levels, statedLength: length));

        Assert.Equal(levels[..slots], Assert.Single(read.Frames).Slots);
        LinkEvent told = Assert.Single(read.Events);
        Assert.Equal((LinkEventKind.ArtLengthOdd, (long)length, (long)present), (told.Kind, told.A, told.B));
        Assert.Equal(0, read.Decoder.CountsOf(0).Malformed);
    }

    [Fact]
    public void A_length_over_what_the_datagram_holds_is_malformed_and_gives_the_slots_present()
    {
        FrameCollector read = Take(ArtNetPackets.Dmx(0x123, 5, [1, 2, 3, 4], statedLength: 512));

        CollectedFrame frame = Assert.Single(read.Frames);
        Assert.Equal([1, 2, 3, 4], frame.Slots);
        Assert.True(frame.Flags.HasFlag(FrameFlags.SlotsCut));
        Assert.Equal(1, read.Decoder.CountsOf(0).Malformed);
    }

    [Fact]
    public void A_swapped_op_code_is_another_packet_by_its_number()
    {
        byte[] packet = ArtNetPackets.Dmx(0, 1, [1, 2]);
        (packet[8], packet[9]) = (packet[9], packet[8]);

        FrameCollector read = Take(packet);

        Assert.Empty(read.Frames);
        LinkEvent told = Assert.Single(read.Events);
        Assert.Equal((LinkEventKind.ArtOther, 0x0050L), (told.Kind, told.A));
    }

    [Theory]
    [InlineData("10.200.0.20")] // real fault of parsers: the octets of the address read as a version above 14
    [InlineData("2.0.0.1")]
    public void A_poll_reply_is_read_whatever_the_second_octet_of_its_address(string address)
    {
        byte[] reply = ArtNetPackets.PollReply(new ArtPollReplyFields
        {
            Address = IPAddress.Parse(address),
            Mac = [2, 0, 0, 0, 0, 1],
            PortAddress = 0x123,
            PortName = "Port one",
            LongName = "Long name of node",
        });

        FrameCollector read = Take(reply);

        LinkEvent told = Assert.Single(read.Events, e => e.Kind == LinkEventKind.ArtPollReply);
        Assert.Equal((LinkEventKind.ArtPollReply, 239L, 6454L), (told.Kind, told.A, told.B));
        Assert.Equal("Long name of node", Assert.Single(read.Decoder.Nodes.Snapshot()).LongName);
        Assert.Equal(0, read.Decoder.CountsOf(0).Malformed);
    }

    [Fact]
    public void A_universe_sent_high_octet_first_is_shown_as_what_was_sent() // real fault of two libraries
    {
        byte[] packet = ArtNetPackets.Dmx(1, 1, [1, 2]);
        (packet[14], packet[15]) = (packet[15], packet[14]);

        Assert.Equal(new UniverseId(UniverseProtocol.ArtNet, 256), Assert.Single(Take(packet).Frames).Universe);
    }

    [Fact]
    public void Another_start_code_travels_in_ArtNzs_and_never_becomes_levels()
    {
        FrameCollector text = Take(ArtNetPackets.Nzs(0x123, 6, 0x17, [0, 0, (byte)'H', (byte)'i', 0]));
        FrameCollector zero = Take(ArtNetPackets.Nzs(0x123, 6, 0x00, [255, 255]));

        CollectedFrame frame = Assert.Single(text.Frames);
        Assert.Equal((0x17, 0x123), ((int)frame.StartCode, frame.Universe.Number));
        Assert.Empty(zero.Frames);
        Assert.Equal(1, zero.Decoder.CountsOf(0).Malformed);
    }

    [Theory]
    [InlineData(1, true)]
    [InlineData(0, false)] // 0: the sequence feature is disabled (page 74)
    public void A_sequence_of_0_is_not_counted(int sequence, bool counted)
    {
        CollectedFrame frame = Assert.Single(Take(ArtNetPackets.Dmx(0, sequence, [1, 2])).Frames);

        Assert.Equal(counted, frame.Flags.HasFlag(FrameFlags.SequenceCounted));
    }

    [Fact]
    public void Two_physical_inputs_of_one_address_are_two_senders() // the merge key (page 76)
    {
        FrameCollector read = Take(ArtNetPackets.Dmx(0, 1, [1, 2], physical: 0), ArtNetPackets.Dmx(0, 1, [3, 4], physical: 1));

        Assert.Equal(2, read.Frames.Select(frame => frame.Stream).Distinct().Count());
        Assert.Equal([0, 1], read.Frames.Select(frame => read.Decoder.Senders.Describe(frame.Sender).Physical));
    }

    [Fact]
    public void Polls_of_14_octets_syncs_and_other_packets_are_events()
    {
        FrameCollector read = Take(
            ArtNetPackets.Poll(old: true), ArtNetPackets.Poll(), ArtNetPackets.Sync(), ArtNetPackets.Other(0x9700, new byte[7]));

        Assert.Equal(
            [LinkEventKind.ArtPoll, LinkEventKind.ArtPoll, LinkEventKind.ArtSync, LinkEventKind.ArtOther, LinkEventKind.ArtTimeCode],
            read.Events.Where(e => e.Kind != LinkEventKind.ArtRule).Select(e => e.Kind));
    }

    [Fact]
    public void The_first_fragment_of_a_datagram_is_told_and_a_later_one_is_other_traffic()
    {
        byte[] first = Frame(ArtNetPackets.Dmx(0, 1, new byte[512]));
        first[20] = 0x20; // more fragments
        byte[] later = Frame(ArtNetPackets.Dmx(0, 1, new byte[512]));
        later[21] = 0xB9; // offset 1480

        FrameCollector read = new FrameCollector().Take(first).Take(later);

        Assert.Empty(read.Frames);
        Assert.Equal((1L, 1L), (read.Decoder.CountsOf(0).Fragments, read.Decoder.CountsOf(0).OtherTraffic));
    }

    private static byte[] Frame(byte[] packet) => UdpFrames.Build(UdpPath.Unicast(From, To, ArtNetPackets.Port), packet);

    private static FrameCollector Take(params byte[][] packets)
    {
        FrameCollector read = new();
        foreach (byte[] packet in packets)
        {
            read.Take(Frame(packet));
        }

        return read;
    }
}
