using System.Net;
using DmxProbe.Protocols.Net;

namespace DmxProbe.Protocols.Tests.Net;

public class IpAddressTests
{
    // The examples of RFC 5952 sections 4.1 to 4.3 and 5 (from memory).
    [Theory]
    [InlineData("20010db8000000000000000000000001", "2001:db8::1")]
    [InlineData("20010db8000000000000000000020001", "2001:db8::2:1")]
    [InlineData("20010db8000000010001000100010001", "2001:db8:0:1:1:1:1:1")]
    [InlineData("20010000000000010000000000000001", "2001:0:0:1::1")]
    [InlineData("20010db8000000000001000000000001", "2001:db8::1:0:0:1")]
    [InlineData("20010db8aaaabbbbccccddddeeee0aaa", "2001:db8:aaaa:bbbb:cccc:dddd:eeee:aaa")]
    [InlineData("00000000000000000000ffffc0000201", "::ffff:192.0.2.1")]
    [InlineData("ff180000000000000000000083001f1a", "ff18::8300:1f1a")]
    [InlineData("00000000000000000000000000000000", "::")]
    public void Ipv6_is_written_as_rfc_5952_says(string hex, string text) =>
        Assert.Equal(text, IpAddress.FromIpv6(Vector.Hex(hex)).ToString());

    [Theory]
    [InlineData(0xC000020A, "192.0.2.10")]
    [InlineData(0u, "0.0.0.0")]
    [InlineData(0xFFFFFFFF, "255.255.255.255")]
    [InlineData(0xEFFF1F1A, "239.255.31.26")]
    public void Ipv4_is_written_dotted(uint address, string text) =>
        Assert.Equal(text, IpAddress.FromIpv4(address).ToString());

    [Fact]
    public void Every_ipv6_address_reads_back_as_itself()
    {
        Random random = new(5952);
        byte[] octets = new byte[16];
        for (int i = 0; i < 5000; i++)
        {
            random.NextBytes(octets);
            for (int k = random.Next(16); k > 0; k--)
            {
                octets[random.Next(16)] = 0;
            }

            IpAddress address = IpAddress.FromIpv6(octets);
            Assert.Equal(octets, IPAddress.Parse(address.ToString()).GetAddressBytes());
            byte[] copy = new byte[16];
            Assert.Equal(16, address.CopyTo(copy));
            Assert.Equal(octets, copy);
        }
    }

    [Fact]
    public void Equal_numbers_of_different_families_differ()
    {
        Assert.NotEqual(IpAddress.FromIpv4(1), IpAddress.FromIpv6(0, 1));
        Assert.Equal(IpAddress.FromIpv4(1), IpAddress.FromIpv4(1));
        Assert.Equal(default, IpAddress.FromIpv4(0));
    }

    [Theory]
    [InlineData(0xEFFF0001, true)]
    [InlineData(0xE0000001, true)]
    [InlineData(0xDFFFFFFF, false)]
    [InlineData(0xF0000000, false)]
    public void Ipv4_groups_are_told(uint address, bool isGroup) =>
        Assert.Equal(isGroup, IpAddress.FromIpv4(address).IsMulticast);

    [Fact]
    public void Ipv6_groups_and_the_limited_broadcast_are_told()
    {
        Assert.True(IpAddress.FromIpv6(PacketBytes.Ipv6Group).IsMulticast);
        Assert.False(IpAddress.FromIpv6(PacketBytes.Ipv6Source).IsMulticast);
        Assert.True(IpAddress.FromIpv4(uint.MaxValue).IsLimitedBroadcast);
        Assert.False(IpAddress.FromIpv6(0, uint.MaxValue).IsLimitedBroadcast);
    }
}
