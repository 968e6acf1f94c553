using System.Text;
using DmxProbe.Protocols.Sacn;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Sacn;

// The layout is known from general dissectors only; the packet is constructed from it.
public class SacnDraftPacketTests
{
    private static readonly byte[] Example = Vector.Read("sacn_draft.bin");

    [Fact]
    public void Fields_lie_where_the_draft_had_them()
    {
        Assert.True(SacnDraftPacket.TryParse(Example, out SacnDraftPacket packet, out WireError error));
        Assert.Equal(WireError.None, error);
        Assert.Equal("Source_A", Encoding.UTF8.GetString(packet.SourceName));
        Assert.Equal("ef07c8dd-0064-4401-a3a2-459ef8e6143e", packet.Cid.ToString());
        Assert.Equal((100, 9, 1), (packet.Priority, packet.Sequence, packet.Universe));
        Assert.Equal((0, 8, 0), (packet.StartCode, packet.PropertyCount, packet.SlotsMissing));
        Octets.Equal([1, 2, 3, 4, 5, 6, 7, 8], packet.Slots);
        Assert.True(packet.AreDmpFieldsValid && packet.FlagsAndLengthAgree(98));
    }

    [Fact]
    public void The_variant_with_wider_addresses_is_refused_at_its_type()
    {
        Assert.False(SacnDraftPacket.TryParse(Vector.With(Example, 83, 0xA2), out _, out WireError error));
        Assert.Equal(new WireError(WireErrorKind.Invalid, 83, 0xA1, 0xA2), error);
    }

    [Fact]
    public void A_count_over_512_is_invalid()
    {
        Assert.False(SacnDraftPacket.TryParse(Vector.With(Example, 88, 2, 1), out _, out WireError error));
        Assert.Equal(new WireError(WireErrorKind.Invalid, 88, 512, 513), error);
    }

    [Fact]
    public void At_every_cut_length_the_slots_present_are_right_or_the_packet_is_refused()
    {
        for (int length = 0; length < Example.Length; length++)
        {
            bool parsed = SacnDraftPacket.TryParse(Vector.Cut(Example, length), out SacnDraftPacket packet, out WireError error);

            Assert.Equal(length >= 90, parsed);
            Assert.Equal(parsed ? WireErrorKind.None : WireErrorKind.Truncated, error.Kind);
            Assert.Equal(parsed ? 98 - length : 0, parsed ? packet.SlotsMissing : 0);
        }
    }
}
