using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Tests.Net;

namespace DmxProbe.Protocols.Tests.Wire;

/// <summary>No view may throw, whatever the octets; buffers are exactly as long as their data.</summary>
public class EveryViewTests
{
    private static readonly byte[][] Corpus =
    [
        .. new[]
        {
            "sacn_3.bin", "sacn_full.bin", "sacn_sync.bin", "sacn_disc.bin", "sacn_draft.bin", "artdmx.bin", "artnzs.bin",
            "artsync.bin", "artpoll22.bin", "artpollreply.bin", "artaddr.bin", "artinput.bin", "artipprog.bin",
            "artipprogreply.bin", "arttc.bin", "artdiag.bin", "arttrig.bin", "artcmd.bin", "arttodreq.bin", "arttoddata.bin",
            "arttodctl.bin", "artrdm.bin",
        }.Select(Vector.Read),
        PacketBytes.Ethernet(EtherType.Ipv4, PacketBytes.Ipv4(PacketBytes.Udp(1, 5568, Vector.Read("sacn_3.bin")), [1, 1, 1, 0])),
        PacketBytes.Ethernet(
            EtherType.Ipv6,
            PacketBytes.Ipv6(
                [IpProtocol.Fragment, 0, 1, 4, 0, 0, 0, 0, IpProtocol.Udp, 0, 0, 0, 0, 0, 0, 1, .. PacketBytes.Udp(1, 6454, Vector.Read("artdmx.bin"))],
                IpProtocol.HopByHop),
            (EtherType.ProviderVlan, 1),
            (EtherType.Vlan, 2)),
        PacketBytes.Ipv4(PacketBytes.Udp(1, 6454, [1, 2, 3, 4, 5])),
        GroupBytes.Igmp3Report,
        GroupBytes.Igmp2Report,
        GroupBytes.Mld2Report,
        GroupBytes.Mld1Report,
        GroupBytes.ArpReply,
        PacketBytes.Ipv6(PacketBytes.Udp(1, 6454, [1, 2, 3, 4, 5])),
    ];

    [Fact]
    public void Every_packet_is_safe_at_every_cut_length()
    {
        int made = 0;
        foreach (byte[] packet in Corpus)
        {
            for (int length = 0; length <= packet.Length; length++)
            {
                made += EveryView.Touch(Vector.Cut(packet, length));
            }
        }

        Assert.True(made > 1000, $"only {made} views could be made: the cuts test nothing");
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Every_packet_is_safe_with_octets_changed(int seed)
    {
        Random random = new(seed);
        int made = 0;
        for (int round = 0; round < 3000; round++)
        {
            byte[] packet = [.. Corpus[random.Next(Corpus.Length)]];
            for (int changes = random.Next(1, 6); changes > 0; changes--)
            {
                packet[random.Next(packet.Length)] = InterestingOctet(random);
            }

            made += EveryView.Touch(random.Next(3) == 0 ? Vector.Cut(packet, random.Next(packet.Length + 1)) : packet);
        }

        Assert.True(made > 3000, $"only {made} views could be made: the changes test nothing");
    }

    [Theory]
    [InlineData(11)]
    [InlineData(12)]
    public void Noise_is_safe(int seed)
    {
        Random random = new(seed);
        for (int round = 0; round < 5000; round++)
        {
            byte[] noise = new byte[random.Next(300)];
            random.NextBytes(noise);
            if (noise.Length > 0 && round % 2 == 0)
            {
                noise[0] = random.Next(2) == 0 ? (byte)0x45 : (byte)0x60;
            }

            EveryView.Touch(noise);
        }
    }

    private static byte InterestingOctet(Random random) => random.Next(4) switch
    {
        0 => 0,
        1 => 0xFF,
        _ => (byte)random.Next(256),
    };
}
