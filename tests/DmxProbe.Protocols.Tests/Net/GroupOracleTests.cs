using System.Net;
using System.Net.NetworkInformation;
using DmxProbe.Protocols.Net;
using PacketDotNet;
using PacketDotNet.Utils;
using ArpPacket = DmxProbe.Protocols.Net.ArpPacket;

namespace DmxProbe.Protocols.Tests.Net;

/// <summary>ARP and IGMP against a general packet library (PacketDotNet), both ways: it makes and we read, we have made and it reads.</summary>
public class GroupOracleTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void Arp_made_by_the_library_reads_the_same(int seed)
    {
        Random random = new(seed);
        for (int i = 0; i < 200; i++)
        {
            PhysicalAddress theirMac = new(Octets(random, 6));
            PhysicalAddress myMac = new(Octets(random, 6));
            IPAddress theirs = new(Octets(random, 4));
            IPAddress mine = new(Octets(random, 4));
            bool isReply = random.Next(2) == 0;
            PacketDotNet.ArpPacket made = new(
                isReply ? ArpOperation.Response : ArpOperation.Request, theirMac, theirs, myMac, mine);
            byte[] frame = new EthernetPacket(myMac, theirMac, EthernetType.Arp) { PayloadPacket = made }.Bytes;

            Assert.True(ArpPacket.TryParse(frame.AsSpan(14), out ArpPacket read, out _));

            Assert.Equal((isReply, !isReply), (read.IsReply, read.IsRequest));
            Assert.Equal(mine.ToString(), read.SenderIp.ToString());
            Assert.Equal(theirs.ToString(), read.TargetIp.ToString());
            Assert.Equal(myMac, PhysicalAddress.Parse(read.SenderMac.ToString()));
            Assert.Equal(theirMac, PhysicalAddress.Parse(read.TargetMac.ToString()));
        }
    }

    [Fact]
    public void Arp_of_ours_reads_the_same_in_the_library()
    {
        PacketDotNet.ArpPacket read = new(new ByteArraySegment(GroupBytes.ArpReply));

        Assert.Equal(ArpOperation.Response, read.Operation);
        Assert.Equal(("10.20.0.16", "10.20.0.17"), (read.SenderProtocolAddress.ToString(), read.TargetProtocolAddress.ToString()));
        Assert.Equal(PhysicalAddress.Parse("02-00-0A-14-00-10"), read.SenderHardwareAddress);
    }

    [Theory]
    [InlineData(IgmpMessageType.MembershipReportIGMPv1, 1, GroupMessageKind.Report)]
    [InlineData(IgmpMessageType.MembershipReportIGMPv2, 2, GroupMessageKind.Report)]
    [InlineData(IgmpMessageType.LeaveGroup, 2, GroupMessageKind.Leave)]
    [InlineData(IgmpMessageType.MembershipQuery, 2, GroupMessageKind.Query)]
    public void Igmp_written_by_the_library_reads_the_same(IgmpMessageType type, int version, GroupMessageKind kind)
    {
        byte[] octets = [0, 0, 0, 0, 239, 255, 1, 7];
        IgmpV2Packet made = new(new ByteArraySegment(octets)) { Type = type, MaxResponseTime = (byte)(kind == GroupMessageKind.Query ? 100 : 0) };

        Assert.True(IgmpMessage.TryParse(made.Bytes, out IgmpMessage read, out _));

        Assert.Equal((kind, version), (read.Kind, read.Version));
        Assert.Equal(made.GroupAddress.ToString(), read.Group.ToString());
        Assert.False(read.IsGeneralQuery);
    }

    [Fact]
    public void A_version_3_query_written_by_the_library_reads_the_same()
    {
        IgmpV3MembershipQueryPacket made = new(new ByteArraySegment(new byte[12]))
        {
            Type = IgmpMessageType.MembershipQuery,
            MaxResponseTime = 100,
            QueriersQueryInterval = 60,
        };

        Assert.True(IgmpMessage.TryParse(made.Bytes, out IgmpMessage read, out _));
        Assert.Equal((3, true, 60), (read.Version, read.IsGeneralQuery, read.QueryIntervalSeconds));
    }

    [Fact]
    public void A_version_3_report_of_ours_reads_the_same_in_the_library()
    {
        IgmpV3MembershipReportPacket theirs = new(new ByteArraySegment(GroupBytes.Igmp3Report));
        Assert.True(IgmpMessage.TryParse(GroupBytes.Igmp3Report, out IgmpMessage ours, out _));

        Assert.Equal(2, theirs.NumberOfGroupRecords);
        int at = 0;
        foreach (GroupRecord record in ours.Records)
        {
            IgmpV3MembershipReportGroupRecord expected = theirs.GroupRecords[at++];
            Assert.Equal(expected.MulticastAddress.ToString(), record.Group.ToString());
            Assert.Equal((int)expected.RecordType, (int)record.Type);
            Assert.Equal(expected.NumberOfSources, record.Sources);
        }

        Assert.Equal(2, at);
    }

    private static byte[] Octets(Random random, int count)
    {
        byte[] octets = new byte[count];
        random.NextBytes(octets);
        return octets;
    }
}
