using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Protocols.Tests.Sacn;

public class SacnAddressingTests
{
    // E1.31-2018 Tables 9-10 and 9-12 applied by hand; 239.255.31.26 for 7962 is printed in its Appendix B.2.
    [Theory]
    [InlineData(1, "239.255.0.1", "ff18::8300:1")]
    [InlineData(256, "239.255.1.0", "ff18::8300:100")]
    [InlineData(7962, "239.255.31.26", "ff18::8300:1f1a")]
    [InlineData(32768, "239.255.128.0", "ff18::8300:8000")]
    [InlineData(63999, "239.255.249.255", "ff18::8300:f9ff")]
    [InlineData(64214, "239.255.250.214", "ff18::8300:fad6")]
    public void A_universe_has_one_group_in_each_ip_version(int universe, string ipv4, string ipv6)
    {
        IpAddress four = SacnAddressing.Ipv4Group((ushort)universe);
        IpAddress six = SacnAddressing.Ipv6Group((ushort)universe);

        Assert.Equal((ipv4, ipv6), (four.ToString(), six.ToString()));
        Assert.True(SacnAddressing.TryGetUniverse(four, out ushort from4));
        Assert.True(SacnAddressing.TryGetUniverse(six, out ushort from6));
        Assert.Equal((universe, universe), (from4, from6));
        Assert.False(SacnAddressing.TryGetMisreadUniverse(six, out _) || SacnAddressing.TryGetMisreadUniverse(four, out _));
    }

    [Fact]
    public void The_group_of_7962_has_the_octets_of_the_table() => Octets.Equal(
        Vector.Hex("ff18 0000 0000 0000 0000 0000 8300 1f1a"), Copy(SacnAddressing.Ipv6Group(7962)));

    [Fact]
    public void Every_universe_maps_to_its_groups_and_back()
    {
        for (int universe = 0; universe <= ushort.MaxValue; universe++)
        {
            Assert.True(SacnAddressing.TryGetUniverse(SacnAddressing.Ipv4Group((ushort)universe), out ushort from4));
            Assert.True(SacnAddressing.TryGetUniverse(SacnAddressing.Ipv6Group((ushort)universe), out ushort from6));
            Assert.True(from4 == universe && from6 == universe);
        }
    }

    [Theory]
    [InlineData("ff18000000000000008300000 01f001a", 7962)]
    [InlineData("ff180000000000000083000000fa0000", 64000)]
    public void The_group_of_the_running_text_is_told_as_misread(string hex, int universe)
    {
        IpAddress group = IpAddress.FromIpv6(Vector.Hex(hex));

        Assert.True(SacnAddressing.TryGetMisreadUniverse(group, out ushort meant));
        Assert.Equal(universe, meant);
        Assert.False(SacnAddressing.TryGetUniverse(group, out _));
    }

    [Theory]
    [InlineData(0xEFFE0001)] // 239.254.0.1
    [InlineData(0xE0000001)]
    [InlineData(0xC0000201)]
    public void Other_ipv4_addresses_are_no_groups_of_universes(uint address) =>
        Assert.False(SacnAddressing.TryGetUniverse(IpAddress.FromIpv4(address), out _));

    [Fact]
    public void Groups_239_255_255_x_belong_to_no_universe_that_may_be_sent()
    {
        Assert.True(SacnAddressing.TryGetUniverse(IpAddress.FromIpv4(0xEFFFFF07), out ushort universe));
        Assert.False(SacnAddressing.IsDataUniverse(universe));
        Assert.NotEqual(SacnAddressing.DiscoveryUniverse, universe);
    }

    private static byte[] Copy(IpAddress address)
    {
        byte[] octets = new byte[16];
        address.CopyTo(octets);
        return octets;
    }
}
