using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.ArtNet;

// Constructed from Art-Net 4 (document 1.4dn) page 80.
public class ArtNzsPacketTests
{
    private static readonly byte[] Example = Vector.Read("artnzs.bin");

    [Fact]
    public void The_example_reads_field_by_field()
    {
        Assert.True(ArtNzsPacket.TryParse(Example, out ArtNzsPacket packet, out _));
        Assert.Equal((14, 6, 0x17, 291, 5), (packet.ProtVer, packet.Sequence, packet.StartCode, packet.PortAddress, packet.Length));
        Octets.Equal([0, 0, (byte)'H', (byte)'i', 0], packet.Slots);
        Assert.True(packet.IsStartCodeAllowed && packet.IsLengthAllowed);
        Assert.False(packet.IsNetBit7Set || packet.IsVlc);
        Assert.Equal((0x23, 1, 5, 0), (packet.SubUni, packet.Net, packet.OctetsPresent, packet.SlotsMissing));
    }

    [Theory]
    [InlineData(0x00)]
    [InlineData(0xCC)]
    public void Start_codes_that_may_not_travel_here_are_told(byte startCode)
    {
        Assert.True(ArtNzsPacket.TryParse(Vector.With(Example, 13, startCode), out ArtNzsPacket packet, out _));
        Assert.False(packet.IsStartCodeAllowed);
    }

    [Fact]
    public void Visible_light_data_is_told_by_start_code_and_first_octets()
    {
        byte[] data = Vector.With(Vector.With(Example, 13, 0x91), 18, 0x41, 0x4C, 0x45);

        Assert.True(ArtNzsPacket.TryParse(data, out ArtNzsPacket packet, out _));
        Assert.True(packet.IsVlc);
    }

    [Theory]
    [InlineData(0, false)]
    [InlineData(1, true)]
    [InlineData(512, true)]
    [InlineData(513, false)]
    public void Lengths_of_1_to_512_are_allowed(int length, bool allowed)
    {
        byte[] data = Vector.With(Example, 16, unchecked([(byte)(length >> 8), (byte)length]));

        Assert.True(ArtNzsPacket.TryParse(data, out ArtNzsPacket packet, out _));
        Assert.Equal(allowed, packet.IsLengthAllowed);
    }

    [Fact]
    public void At_every_cut_length_the_slots_present_are_right_or_the_packet_is_refused()
    {
        for (int length = 0; length < Example.Length; length++)
        {
            bool parsed = ArtNzsPacket.TryParse(Vector.Cut(Example, length), out ArtNzsPacket packet, out WireError error);

            Assert.Equal(length >= 18, parsed);
            Assert.Equal(parsed ? WireError.None : WireError.Truncated(18, length), error);
            Assert.Equal(parsed ? 23 - length : 0, parsed ? packet.SlotsMissing : 0);
        }
    }
}
