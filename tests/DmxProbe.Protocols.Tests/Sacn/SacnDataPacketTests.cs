using System.Text;
using DmxProbe.Protocols.Sacn;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Sacn;

public class SacnDataPacketTests
{
    private static readonly byte[] Small = Vector.Read("sacn_3.bin");

    // Table B-13's own values: lengths, vectors, CID, name, 100, 7962, 154, universe 1, START code 0, DMP layer.
    // Constructed: the levels (0), the other option bits (0).
    [Fact]
    public void The_worked_example_of_E131_2018_table_B_13_reads_as_printed()
    {
        byte[] data = Vector.Read("sacn_full.bin");

        Assert.True(SacnDataPacket.TryParse(data, out SacnDataPacket packet, out WireError error));
        Assert.Equal(WireError.None, error);
        Assert.Equal("ef07c8dd-0064-4401-a3a2-459ef8e6143e", packet.Cid.ToString());
        Octets.Equal(Vector.Hex("ef07c8dd00644401a3a2459ef8e6143e"), packet.CidOctets);
        Assert.Equal("Source_A", Encoding.UTF8.GetString(packet.SourceName));
        Assert.True(packet.IsSourceNameTerminated);
        Assert.Equal((100, 7962, 154, 0), (packet.Priority, packet.SyncAddress, packet.Sequence, packet.Options));
        Assert.False(packet.ForceSynchronization || packet.IsPreview || packet.IsTerminated);
        Assert.Equal((1, 513, 0), (packet.Universe, packet.PropertyCount, packet.StartCode));
        Octets.Equal(new byte[512], packet.Slots);
        Assert.Equal(0, packet.SlotsMissing);
        Assert.True(packet.AreDmpFieldsValid && packet.IsPriorityAllowed && packet.IsUniverseAllowed);
        Assert.Equal(WireError.None, packet.FirstRuleBroken);
        Assert.True(packet.FlagsAndLengthAgree(638));
    }

    [Fact]
    public void Three_levels_are_slots_1_to_3()
    {
        // Written out from the layout of Table 4-1.
        byte[] expected = Vector.Hex(
            "00100000 4153432d45312e3137000000 7071 00000004 ef07c8dd00644401a3a2459ef8e6143e 705b 00000002"
            + "536f757263655f41" + new string('0', 112) + "64 0000 01 00 0001 700e 02 a1 0000 0001 0004 00 ff8001");
        Assert.Equal(expected, Small);

        Assert.True(SacnDataPacket.TryParse(Small, out SacnDataPacket packet, out _));
        Octets.Equal([255, 128, 1], packet.Slots);
        Assert.Equal((4, 0, 1, 0), (packet.PropertyCount, packet.SyncAddress, packet.Sequence, packet.SlotsMissing));
        Assert.True(packet.FlagsAndLengthAgree(129));
    }

    [Fact]
    public void Termination_is_seen_and_its_slots_are_still_there_to_be_ignored()
    {
        Assert.True(SacnDataPacket.TryParse(Vector.Read("sacn_term.bin"), out SacnDataPacket packet, out _));
        Assert.True(packet.IsTerminated);
        Assert.Equal((0x40, 2), (packet.Options, packet.Sequence));
    }

    [Fact]
    public void Priority_of_each_slot_keeps_its_start_code() // real fault: DDh packets taken as levels
    {
        Assert.True(SacnDataPacket.TryParse(Vector.Read("sacn_dd.bin"), out SacnDataPacket packet, out _));
        Assert.Equal(0xDD, packet.StartCode);
        Octets.Equal([100, 0, 200], packet.Slots);
    }

    [Theory]
    [InlineData(0x80, true, false, false)]
    [InlineData(0x40, false, true, false)]
    [InlineData(0x20, false, false, true)]
    [InlineData(0x1F, false, false, false)]
    public void Options_are_bits_7_6_and_5(byte options, bool preview, bool terminated, bool force)
    {
        Assert.True(SacnDataPacket.TryParse(Vector.With(Small, 112, options), out SacnDataPacket packet, out _));
        Assert.Equal((preview, terminated, force), (packet.IsPreview, packet.IsTerminated, packet.ForceSynchronization));
    }

    [Theory]
    [InlineData(125)] // the largest short of START code
    [InlineData(44)]
    [InlineData(0)]
    public void A_packet_cut_before_its_start_code_is_refused(int length)
    {
        Assert.False(SacnDataPacket.TryParse(Vector.Cut(Small, length), out _, out WireError error));
        Assert.Equal((WireErrorKind.Truncated, length), (error.Kind, error.Offset));
    }

    [Fact]
    public void At_every_cut_length_the_slots_present_are_right_or_the_packet_is_refused()
    {
        for (int length = 0; length < Small.Length; length++)
        {
            bool parsed = SacnDataPacket.TryParse(Vector.Cut(Small, length), out SacnDataPacket packet, out WireError error);

            Assert.Equal(length >= 126, parsed);
            if (parsed)
            {
                Octets.Equal(Small.AsSpan(126, length - 126), packet.Slots);
                Assert.Equal(129 - length, packet.SlotsMissing);
            }
            else
            {
                Assert.Equal((WireErrorKind.Truncated, (long)length), (error.Kind, error.Found));
            }
        }
    }

    [Theory]
    [InlineData(0, false)]
    [InlineData(1, true)]
    [InlineData(513, true)]
    [InlineData(514, false)]
    [InlineData(65535, false)]
    public void A_count_outside_1_to_513_is_invalid(int count, bool readable)
    {
        byte[] data = Vector.With(Vector.Read("sacn_full.bin"), 123, unchecked([(byte)(count >> 8), (byte)count]));

        bool parsed = SacnDataPacket.TryParse(data, out SacnDataPacket packet, out WireError error);

        Assert.Equal(readable, parsed);
        Assert.Equal(readable ? count - 1 : 0, readable ? packet.Slots.Length : 0);
        Assert.Equal(readable ? WireError.None : new WireError(WireErrorKind.Invalid, 123, 513, count), error);
    }

    [Fact]
    public void Octets_behind_the_counted_slots_are_left_out()
    {
        Assert.True(SacnDataPacket.TryParse([.. Small, 9, 9], out SacnDataPacket packet, out _));
        Assert.Equal(3, packet.Slots.Length);
        Assert.False(packet.RootLengthAgrees(131));
    }

    [Fact]
    public void The_identifier_ACN_instead_of_ASC_is_another_protocol()
    {
        Assert.False(SacnDataPacket.TryParse(Vector.With(Small, 5, (byte)'C', (byte)'N'), out _, out WireError error));
        Assert.Equal(new WireError(WireErrorKind.NotThisProtocol, 5, 'S', 'C'), error);
    }

    [Theory]
    [InlineData(21, 8)] // framing vector 2 under root 8 is universe discovery, never data
    [InlineData(21, 3)] // the draft
    [InlineData(43, 1)] // framing vector 1 under root 4: nothing known
    public void Other_vectors_are_other_packets(int offset, byte vector)
    {
        Assert.False(SacnDataPacket.TryParse(Vector.With(Small, offset, vector), out _, out WireError error));
        Assert.Equal((WireErrorKind.NotThisProtocol, offset - 3, (long)vector), (error.Kind, error.Offset, error.Found));
    }

    [Theory]
    [InlineData(200, true)]
    [InlineData(201, false)]
    public void A_priority_over_200_is_read_and_told(byte priority, bool allowed)
    {
        Assert.True(SacnDataPacket.TryParse(Vector.With(Small, 108, priority), out SacnDataPacket packet, out _));
        Assert.Equal((priority, allowed), (packet.Priority, packet.IsPriorityAllowed));
    }

    [Theory]
    [InlineData(0, false)]
    [InlineData(1, true)]
    [InlineData(63999, true)]
    [InlineData(64000, false)]
    [InlineData(64214, false)]
    public void A_reserved_universe_is_read_and_told(int universe, bool allowed)
    {
        byte[] data = Vector.With(Small, 113, unchecked([(byte)(universe >> 8), (byte)universe]));

        Assert.True(SacnDataPacket.TryParse(data, out SacnDataPacket packet, out _));
        Assert.Equal((universe, allowed), (packet.Universe, packet.IsUniverseAllowed));
    }

    [Theory]
    [InlineData(117, 0x03, 117, 0x02, 0x03)]
    [InlineData(118, 0xA2, 118, 0xA1, 0xA2)]
    [InlineData(120, 0x01, 119, 0x0000, 0x0001)]
    [InlineData(122, 0x02, 121, 0x0001, 0x0002)]
    [InlineData(1, 0x11, 0, 0x0010, 0x0011)]
    [InlineData(3, 0x01, 2, 0x0000, 0x0001)]
    public void A_field_for_which_receivers_discard_is_read_and_told(int at, byte value, int offset, long expected, long found)
    {
        Assert.True(SacnDataPacket.TryParse(Vector.With(Small, at, value), out SacnDataPacket packet, out _));
        Assert.Equal(new WireError(WireErrorKind.Invalid, offset, expected, found), packet.FirstRuleBroken);
        Assert.Equal(at < 117, packet.AreDmpFieldsValid);
        Octets.Equal([255, 128, 1], packet.Slots);
    }

    [Theory]
    [InlineData(16, false, true, true)]
    [InlineData(38, true, false, true)]
    [InlineData(115, true, true, false)]
    public void Each_flags_and_length_field_is_judged_by_itself(int offset, bool root, bool framing, bool dmp)
    {
        byte[] wrongLength = Vector.With(Small, offset + 1, unchecked((byte)(Small[offset + 1] + 1)));
        byte[] wrongFlags = Vector.With(Small, offset, 0x60);
        foreach (byte[] data in (byte[][])[wrongLength, wrongFlags])
        {
            Assert.True(SacnDataPacket.TryParse(data, out SacnDataPacket packet, out _));
            Assert.Equal(
                (root, framing, dmp),
                (packet.RootLengthAgrees(129), packet.FramingLengthAgrees(129), packet.DmpLengthAgrees(129)));
            Assert.False(packet.FlagsAndLengthAgree(129));
        }
    }

    [Fact]
    public void The_lengths_of_the_2016_example_are_told_and_the_packet_is_read()
    {
        // E1.31-2016 Appendix B printed 727D, 7257, 720D; senders built from it exist as a possibility.
        byte[] data = Vector.With(Vector.Read("sacn_full.bin"), 16, 0x72, 0x7D);
        data = Vector.With(Vector.With(data, 38, 0x72, 0x57), 115, 0x72, 0x0D);

        Assert.True(SacnDataPacket.TryParse(data, out SacnDataPacket packet, out _));
        Assert.Equal(512, packet.Slots.Length);
        Assert.False(packet.RootLengthAgrees(638) || packet.FramingLengthAgrees(638) || packet.DmpLengthAgrees(638));
    }

    [Fact]
    public void A_wrong_preamble_and_a_missing_start_code_are_read_and_told()
    {
        // Real fault of a library: preamble 00 01 00 00, count 0200h and no START code, so each value is one slot late.
        byte[] full = Vector.Read("sacn_full.bin");
        byte[] data = [.. Vector.With(Vector.With(full, 0, 0, 1, 0, 0), 123, 0x02, 0x00)[..125], .. Enumerable.Repeat((byte)77, 512)];

        Assert.True(SacnDataPacket.TryParse(data, out SacnDataPacket packet, out _));
        Assert.Equal(new WireError(WireErrorKind.Invalid, 0, 0x0010, 0x0001), packet.FirstRuleBroken);
        Assert.Equal((77, 511), (packet.StartCode, packet.Slots.Length));
    }

    [Fact]
    public void A_name_without_a_zero_octet_is_read_in_full_and_told()
    {
        byte[] data = Vector.With(Small, 44, [.. Enumerable.Repeat((byte)'x', 64)]);

        Assert.True(SacnDataPacket.TryParse(data, out SacnDataPacket packet, out _));
        Assert.Equal(64, packet.SourceName.Length);
        Assert.False(packet.IsSourceNameTerminated);
    }
}
