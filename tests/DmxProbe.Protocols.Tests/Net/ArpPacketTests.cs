using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Net;

/// <summary>ARP as RFC 826 and 5227 have it.</summary>
public class ArpPacketTests
{
    [Fact]
    public void A_reply_reads_field_by_field()
    {
        Assert.True(ArpPacket.TryParse(GroupBytes.ArpReply, out ArpPacket packet, out _));

        Assert.Equal((true, false, 2), (packet.IsReply, packet.IsRequest, packet.Operation));
        Assert.Equal(("02:00:0a:14:00:10", "10.20.0.16"), (packet.SenderMac.ToString(), packet.SenderIp.ToString()));
        Assert.Equal(("02:00:0a:14:00:11", "10.20.0.17"), (packet.TargetMac.ToString(), packet.TargetIp.ToString()));
        Assert.False(packet.IsProbe || packet.IsAnnouncement);
    }

    [Fact]
    public void Probes_and_announcements_are_told_from_questions()
    {
        byte[] probe = Vector.With(Vector.With(GroupBytes.ArpReply, 7, 1), 14, 0, 0, 0, 0);
        Assert.True(ArpPacket.TryParse(probe, out ArpPacket asks, out _));
        Assert.True(asks is { IsRequest: true, IsProbe: true, IsAnnouncement: false });

        byte[] announcement = Vector.With(Vector.With(GroupBytes.ArpReply, 7, 1), 24, 10, 20, 0, 16);
        Assert.True(ArpPacket.TryParse(announcement, out ArpPacket tells, out _));
        Assert.True(tells is { IsProbe: false, IsAnnouncement: true });
    }

    [Fact]
    public void It_is_refused_when_cut_and_when_not_ipv4_over_ethernet()
    {
        for (int length = 0; length < 28; length++)
        {
            Assert.False(ArpPacket.TryParse(Vector.Cut(GroupBytes.ArpReply, length), out _, out WireError error));
            Assert.Equal(WireError.Truncated(28, length), error);
        }

        Assert.False(ArpPacket.TryParse(Vector.With(GroupBytes.ArpReply, 1, 6), out _, out WireError other));
        Assert.Equal(WireErrorKind.NotThisProtocol, other.Kind);
    }

    [Fact]
    public void A_mac_address_tells_adapter_group_and_everybody()
    {
        Assert.False(MacAddress.Read([2, 0, 10, 20, 0, 16]).IsGroup);
        Assert.True(MacAddress.Read([1, 0, 0x5E, 0x7F, 0, 1]) is { IsGroup: true, IsBroadcast: false });
        Assert.True(MacAddress.Read([255, 255, 255, 255, 255, 255]) is { IsGroup: true, IsBroadcast: true });
    }
}
