using System.Net;
using DmxProbe.Testing.Files;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Analysis.Tests.Simulation;

/// <summary>Frames against frames that a general dissector accepted (standards-facts B11 and E5).</summary>
public class UdpFramesTests
{
    private static readonly byte[] s_cid = SacnPackets.Cid("ef07c8dd-0064-4401-a3a2-459ef8e6143e");

    private static readonly Host s_host =
        new("source", [2, 0, 0, 0, 0, 1], IPAddress.Parse("192.0.2.10"), IPAddress.Parse("2001:db8::10"));

    [Fact]
    public void The_synchronization_packet_over_ipv6_is_the_constructed_frame()
    {
        UdpPath path = UdpPath.ToSacnGroup(s_host, 7962, ipv6: true);

        byte[] frame = UdpFrames.Build(path, SacnPackets.Sync(s_cid, 7962, 111));

        string expected =
            "333383001f1a 020000000001 86dd 60000000 0039 11 20" +
            "20010db8000000000000000000000010 ff180000000000000000000083001f1a" +
            "15c0 15c0 0039 7a06";
        Assert.Equal(expected.Replace(" ", "", StringComparison.Ordinal), Convert.ToHexStringLower(frame[..62]));
        Assert.Equal(111, frame.Length);
    }

    [Fact]
    public void The_checksums_of_the_dual_stack_example_are_right()
    {
        byte[] payload = SacnPackets.Data(s_cid, "Source_A", 1, 154, new byte[512], syncAddress: 7962);

        byte[] ipv4 = UdpFrames.Build(UdpPath.ToSacnGroup(s_host, 1), payload);
        byte[] ipv6 = UdpFrames.Build(UdpPath.ToSacnGroup(s_host, 1, ipv6: true), payload);

        Assert.Equal([0xE6, 0x48], ipv4[24..26]); // IPv4 header
        Assert.Equal([0x5D, 0x2D], ipv4[40..42]); // UDP
        Assert.Equal([0x5F, 0x55], ipv6[60..62]); // UDP
    }

    [Theory]
    [InlineData(1, "01005e7f0001", "239.255.0.1", "333383000001", "ff18::8300:1")]
    [InlineData(256, "01005e7f0100", "239.255.1.0", "333383000100", "ff18::8300:100")]
    [InlineData(7962, "01005e7f1f1a", "239.255.31.26", "333383001f1a", "ff18::8300:1f1a")]
    [InlineData(32768, "01005e7f8000", "239.255.128.0", "333383008000", "ff18::8300:8000")]
    [InlineData(63999, "01005e7ff9ff", "239.255.249.255", "33338300f9ff", "ff18::8300:f9ff")]
    [InlineData(64214, "01005e7ffad6", "239.255.250.214", "33338300fad6", "ff18::8300:fad6")]
    public void Groups_follow_from_the_universe(int universe, string mac4, string group4, string mac6, string group6)
    {
        // Source: E1.31-2018 sections 9.3.1 and 9.3.2 (Tables 9-10 and 9-12); MAC by RFC 1112 and RFC 2464.
        UdpPath ipv4 = UdpPath.ToSacnGroup(s_host, universe);
        UdpPath ipv6 = UdpPath.ToSacnGroup(s_host, universe, ipv6: true);

        Assert.Equal(mac4, Convert.ToHexStringLower(ipv4.DestinationMac));
        Assert.Equal(IPAddress.Parse(group4), ipv4.Destination);
        Assert.Equal(mac6, Convert.ToHexStringLower(ipv6.DestinationMac));
        Assert.Equal(IPAddress.Parse(group6), ipv6.Destination);
    }

    [Fact]
    public void A_tagged_frame_is_the_constructed_one()
    {
        // vectors/be.pcapng, first packet: VLAN 10, no UDP checksum.
        UdpPath path = new()
        {
            SourceMac = [2, 0, 0, 0, 0, 1],
            DestinationMac = [0x01, 0x00, 0x5E, 0x7F, 0x00, 0x01],
            Source = IPAddress.Parse("192.0.2.10"),
            Destination = IPAddress.Parse("192.0.2.255"),
            SourcePort = ArtNetPackets.Port,
            DestinationPort = ArtNetPackets.Port,
            Vlan = 10,
            Checksum = false,
        };

        byte[] frame = UdpFrames.Build(path, ArtNetPackets.Dmx(0x123, 5, [255, 128, 64, 0], physical: 1), 1);

        string expected =
            "01005e7f0001 020000000001 8100000a 0800 4500 0032 0001 0000 40 11 f5b0 c000020a c00002ff" +
            "1936 1936 001e 0000 4172742d4e6574000050000e050123010004ff804000";
        Assert.Equal(expected.Replace(" ", "", StringComparison.Ordinal), Convert.ToHexStringLower(frame));
    }

    [SkippableFact]
    public void The_frames_of_the_dual_stack_capture_come_out_byte_for_byte()
    {
        string? path = Places.SharedFile("vectors", "sacn_dual.pcap");
        Skip.If(path is null, Places.NoShared);
        byte[] payload = SacnPackets.Data(s_cid, "Source_A", 1, 154, new byte[512], syncAddress: 7962);

        byte[] file = File.ReadAllBytes(path);

        byte[] ipv4 = UdpFrames.Build(UdpPath.ToSacnGroup(s_host, 1), payload);
        byte[] ipv6 = UdpFrames.Build(UdpPath.ToSacnGroup(s_host, 1, ipv6: true), payload);
        Assert.Equal(ipv4, file[40..(40 + ipv4.Length)]); // 24 octets of file header, 16 of record header
        int next = 40 + ipv4.Length + 16;
        Assert.Equal(ipv6, file[next..(next + ipv6.Length)]);
    }
}
