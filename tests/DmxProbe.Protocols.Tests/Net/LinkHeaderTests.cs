using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Tests.Net;

public class LinkHeaderTests
{
    // Layouts: pcap link-type registry; family and EtherType numbers as listed there and by IEEE.
    [Theory]
    [InlineData(LinkType.Ethernet, "01005E7F0001 020000000001 0800", EtherType.Ipv4, 14, -1)]
    [InlineData(LinkType.Ethernet, "01005E7F0001 020000000001 86DD", EtherType.Ipv6, 14, -1)]
    [InlineData(LinkType.Ethernet, "01005E7F0001 020000000001 0806", EtherType.Arp, 14, -1)]
    [InlineData(LinkType.Ethernet, "01005E7F0001 020000000001 8100 A00C 0800", EtherType.Ipv4, 18, 12)]
    [InlineData(LinkType.Ethernet, "01005E7F0001 020000000001 88A8 0064 8100 0FFF 86DD", EtherType.Ipv6, 22, 4095)]
    [InlineData(LinkType.Ethernet, "01005E7F0001 020000000001 9100 0064 8100 0000 0800", EtherType.Ipv4, 22, 0)]
    [InlineData(LinkType.Ethernet, "01005E7F0001 020000000001 8100 0001 8100 0002 8100 0003 0800", EtherType.Ipv4, 26, 3)]
    [InlineData(LinkType.LinuxSll, "0004 0001 0006 0200000000010000 0800", EtherType.Ipv4, 16, -1)]
    [InlineData(LinkType.LinuxSll, "0004 0001 0006 0200000000010000 8100 0007 0800", EtherType.Ipv4, 20, 7)]
    [InlineData(LinkType.LinuxSll2, "86DD 0000 00000002 0001 00 06 0200000000010000", EtherType.Ipv6, 20, -1)]
    [InlineData(LinkType.Null, "02000000", EtherType.Ipv4, 4, -1)]
    [InlineData(LinkType.Null, "00000002", EtherType.Ipv4, 4, -1)]
    [InlineData(LinkType.Null, "18000000", EtherType.Ipv6, 4, -1)]
    [InlineData(LinkType.Null, "0000001C", EtherType.Ipv6, 4, -1)]
    [InlineData(LinkType.Null, "1E000000", EtherType.Ipv6, 4, -1)]
    [InlineData(LinkType.Loop, "00000018", EtherType.Ipv6, 4, -1)]
    [InlineData(LinkType.Loop, "00000002", EtherType.Ipv4, 4, -1)]
    [InlineData(LinkType.Raw, "45", EtherType.Ipv4, 0, -1)]
    [InlineData(LinkType.Raw, "60", EtherType.Ipv6, 0, -1)]
    [InlineData(LinkType.Ipv4, "", EtherType.Ipv4, 0, -1)]
    [InlineData(LinkType.Ipv6, "", EtherType.Ipv6, 0, -1)]
    public void The_network_layer_is_found(LinkType link, string hex, ushort etherType, int offset, int vlanId)
    {
        bool found = LinkHeader.TryFindNetworkLayer(
            link, Vector.Hex(hex), out ushort type, out int at, out int vlan, out WireError error);

        Assert.True(found);
        Assert.Equal((etherType, offset, vlanId, WireError.None), (type, at, vlan, error));
    }

    [Theory]
    [InlineData(LinkType.Ethernet, "01005E7F0001 020000000001 0026", 12, 0x0026)] // 802.3 length, not a type
    [InlineData(LinkType.Loop, "02000000", 0, 0x02000000)]
    [InlineData(LinkType.Null, "07000000", 0, 7)]
    [InlineData(LinkType.Raw, "50", 0, 5)]
    [InlineData((LinkType)105, "080000000000", 0, 105)]
    public void What_leads_to_no_network_layer_is_another_protocol(LinkType link, string hex, int offset, long foundThere)
    {
        bool found = LinkHeader.TryFindNetworkLayer(link, Vector.Hex(hex), out _, out _, out _, out WireError error);

        Assert.False(found);
        Assert.Equal((WireErrorKind.NotThisProtocol, offset, foundThere), (error.Kind, error.Offset, error.Found));
    }

    [Theory]
    [InlineData(LinkType.Ethernet, "01005E7F0001 020000000001 88A8 0064 8100 0005 0800")]
    [InlineData(LinkType.LinuxSll, "0004 0001 0006 0200000000010000 8100 0007 0800")]
    [InlineData(LinkType.LinuxSll2, "0800 0000 00000002 0001 00 06 0200000000010000")]
    [InlineData(LinkType.Null, "02000000")]
    [InlineData(LinkType.Loop, "00000002")]
    [InlineData(LinkType.Raw, "45")]
    public void A_cut_header_is_refused_with_its_offset(LinkType link, string hex)
    {
        byte[] whole = Vector.Hex(hex);
        for (int length = 0; length < whole.Length; length++)
        {
            bool found = LinkHeader.TryFindNetworkLayer(
                link, Vector.Cut(whole, length), out _, out _, out _, out WireError error);

            Assert.False(found);
            Assert.Equal((WireErrorKind.Truncated, length, (long)length), (error.Kind, error.Offset, error.Found));
            Assert.InRange(error.Expected, length + 1, whole.Length);
        }
    }
}
