using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.ArtNet;

// Constructed from Art-Net 4 (document 1.4dn) page 29.
public class ArtPollPacketTests
{
    [Fact]
    public void The_full_packet_reads_field_by_field()
    {
        byte[] data = Vector.With(Vector.Read("artpoll22.bin"), 12, 0x2E);
        data = Vector.With(data, 14, 0x01, 0x2F, 0x01, 0x20, 0x7F, 0xF0, 0x12, 0x34);

        Assert.True(ArtPollPacket.TryParse(data, out ArtPollPacket packet, out _));
        Assert.Equal((14, 0x2E, 0x10), (packet.ProtVer, packet.Flags, packet.DiagPriority));
        Assert.True(packet.IsTargeted && packet.DiagnosticsUnicast && packet.SendDiagnostics && packet.ReplyOnChange);
        Assert.Equal((0x12F, 0x120), (packet.TargetPortAddressTop, packet.TargetPortAddressBottom));
        Assert.Equal((0x7FF0, 0x1234), (packet.EstaMan, packet.Oem));
    }

    [Fact]
    public void A_packet_of_14_octets_is_accepted()
    {
        Assert.True(ArtPollPacket.TryParse(Vector.Read("artpoll14.bin"), out ArtPollPacket packet, out _));
        Assert.True(packet.ReplyOnChange);
        Assert.False(packet.IsTargeted || packet.SendDiagnostics || packet.DiagnosticsUnicast);
        Assert.Equal((0, 0, 0, 0), (packet.TargetPortAddressTop, packet.TargetPortAddressBottom, packet.EstaMan, packet.Oem));
    }

    [Fact]
    public void At_every_cut_length_it_is_readable_or_refused()
    {
        byte[] data = Vector.Read("artpoll22.bin");
        for (int length = 0; length < data.Length; length++)
        {
            bool parsed = ArtPollPacket.TryParse(Vector.Cut(data, length), out ArtPollPacket packet, out WireError error);

            Assert.Equal(length >= 14, parsed);
            Assert.Equal(parsed ? WireError.None : WireError.Truncated(14, length), error);
            Assert.Equal(0, parsed ? packet.Oem : 0);
        }
    }
}
