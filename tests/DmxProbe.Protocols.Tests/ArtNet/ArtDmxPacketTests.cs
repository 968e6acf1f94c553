using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.ArtNet;

// Constructed from Art-Net 4 (document 1.4dn) page 74; an independent dissector read the example the same way.
public class ArtDmxPacketTests
{
    private static readonly byte[] Example = Vector.Read("artdmx.bin");

    [Fact]
    public void The_example_reads_field_by_field()
    {
        Assert.Equal(Vector.Hex("4172742d4e657400 0050 000e 05 01 23 01 0004 ff804000"), Example);

        Assert.True(ArtDmxPacket.TryParse(Example, out ArtDmxPacket packet, out WireError error));
        Assert.Equal(WireError.None, error);
        Assert.Equal((14, 5, 1), (packet.ProtVer, packet.Sequence, packet.Physical));
        Assert.Equal((0x23, 1, 0x123), (packet.SubUni, packet.Net, packet.PortAddress));
        Assert.Equal((4, 4, 0), (packet.Length, packet.OctetsPresent, packet.SlotsMissing));
        Octets.Equal([255, 128, 64, 0], packet.Slots);
        Assert.False(packet.IsLengthOdd || packet.IsLengthOver512 || packet.IsLengthUnder2 || packet.IsNetBit7Set);
    }

    [Theory]
    [InlineData(0, 0, 0)]
    [InlineData(0, 0x10, 16)]
    [InlineData(0, 0xFF, 255)]
    [InlineData(1, 0x23, 291)]
    [InlineData(127, 0xFF, 32767)]
    public void A_port_address_is_net_sub_net_and_universe(byte net, byte subUni, int portAddress)
    {
        Assert.True(ArtDmxPacket.TryParse(Vector.With(Example, 14, subUni, net), out ArtDmxPacket packet, out _));
        Assert.Equal(portAddress, packet.PortAddress);
    }

    [Fact]
    public void Bit_7_of_net_is_told_and_left_out()
    {
        Assert.True(ArtDmxPacket.TryParse(Vector.With(Example, 15, 0x81), out ArtDmxPacket packet, out _));
        Assert.True(packet.IsNetBit7Set);
        Assert.Equal(291, packet.PortAddress);
    }

    [Theory]
    [InlineData(514, 513, 512, 1, false, true)] // real fault: slot 513 set in a library, 513 octets sent
    [InlineData(513, 513, 512, 0, true, true)]
    [InlineData(511, 511, 511, 0, true, false)]
    [InlineData(512, 100, 100, 412, false, false)]
    [InlineData(4, 10, 4, 0, false, false)]
    [InlineData(65535, 600, 512, 64935, true, true)]
    public void Length_and_what_is_there_are_told_apart(int length, int present, int slots, int missing, bool odd, bool over)
    {
        byte[] data = [.. Example[..16], .. unchecked((byte[])[(byte)(length >> 8), (byte)length]), .. Levels(present)];

        Assert.True(ArtDmxPacket.TryParse(data, out ArtDmxPacket packet, out _));
        Octets.Equal(Levels(present).AsSpan(0, slots), packet.Slots);
        Assert.Equal((length, present, missing), (packet.Length, packet.OctetsPresent, packet.SlotsMissing));
        Assert.Equal((odd, over), (packet.IsLengthOdd, packet.IsLengthOver512));
    }

    [Fact]
    public void Length_0_is_a_packet_without_slots()
    {
        Assert.True(ArtDmxPacket.TryParse(Vector.With(Example, 16, 0, 0), out ArtDmxPacket packet, out _));
        Assert.True(packet.IsLengthUnder2 && packet.Slots.IsEmpty);
    }

    [Fact]
    public void An_op_code_with_swapped_octets_is_another_packet()
    {
        Assert.False(ArtDmxPacket.TryParse(Vector.With(Example, 8, 0x50, 0x00), out _, out WireError error));
        Assert.Equal(new WireError(WireErrorKind.NotThisProtocol, 8, 0x5000, 0x0050), error);
    }

    [Fact]
    public void A_universe_sent_high_octet_first_shows_as_another_port_address()
    {
        // Real fault of two libraries: universe 1 is sent as 00 01 instead of 01 00.
        Assert.True(ArtDmxPacket.TryParse(Vector.With(Example, 14, 0, 1), out ArtDmxPacket packet, out _));
        Assert.Equal(256, packet.PortAddress);
    }

    [Fact]
    public void At_every_cut_length_the_slots_present_are_right_or_the_packet_is_refused()
    {
        for (int length = 0; length < Example.Length; length++)
        {
            bool parsed = ArtDmxPacket.TryParse(Vector.Cut(Example, length), out ArtDmxPacket packet, out WireError error);

            Assert.Equal(length >= 18, parsed);
            Assert.Equal(parsed ? WireError.None : WireError.Truncated(18, length), error);
            Assert.Equal(parsed ? 22 - length : 0, parsed ? packet.SlotsMissing : 0);
        }
    }

    private static byte[] Levels(int count) => [.. Enumerable.Range(0, count).Select(i => unchecked((byte)i))];
}
