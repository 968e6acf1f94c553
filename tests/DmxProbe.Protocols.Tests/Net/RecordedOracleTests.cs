using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Files;
using PacketDotNet;

namespace DmxProbe.Protocols.Tests.Net;

/// <summary>Every packet of every recorded capture against a general packet library (PacketDotNet).</summary>
public class RecordedOracleTests
{
    public static TheoryData<string> Committed => [.. Captures(Path.Combine(Places.Repository, "captures"))];

    public static TheoryData<string> SharedOnly => ["net/real_sacn_data_sync_discovery_4pk.pcapng", "net/real_sacn_loopback_null_u1.pcapng"];

    [Theory]
    [MemberData(nameof(Committed))]
    public void A_general_packet_library_reads_the_same_from_captures_of_the_project(string file) =>
        Compare(Path.Combine(Places.Repository, "captures", file));

    [SkippableTheory]
    [MemberData(nameof(SharedOnly))]
    public void A_general_packet_library_reads_the_same_from_shared_captures(string file)
    {
        string? path = Places.SharedFile(["captures", .. file.Split('/')]);
        Skip.If(path is null, Places.NoShared);
        Compare(path);
    }

    private static void Compare(string path)
    {
        using ICaptureSource source = CaptureFileReader.Open(File.OpenRead(path), path);
        int compared = 0;
        while (source.Read(out CaptureRecord record) == ReadStatus.Record)
        {
            if (record.Kind != RecordKind.Packet)
            {
                continue;
            }

            byte[] octets = record.Data.ToArray();
            UdpPacket? theirs = Parse(record.LinkType, octets);
            bool isOurs = NetworkDatagram.TryParse(record.LinkType, octets, out NetworkDatagram datagram, out _);
            Assert.Equal(theirs is not null, isOurs);
            if (theirs is null)
            {
                continue;
            }

            IPPacket ip = (IPPacket)theirs.ParentPacket;
            Assert.Equal(ip.SourceAddress.ToString(), datagram.Source.ToString());
            Assert.Equal(ip.DestinationAddress.ToString(), datagram.Destination.ToString());
            Assert.Equal((theirs.SourcePort, theirs.DestinationPort), (datagram.SourcePort, datagram.DestinationPort));
            Assert.Equal(theirs.Length, datagram.UdpLength);
            Octets.Equal(theirs.PayloadData ?? [], datagram.Payload);
            compared++;
        }

        Assert.True(compared > 0, "no UDP packet was compared");
    }

    // The library does not know the second cooked header (20 octets) everywhere: what follows it is given to it as plain IP.
    private static UdpPacket? Parse(LinkType link, byte[] octets) => (link switch
    {
        LinkType.LinuxSll2 => Packet.ParsePacket(LinkLayers.Raw, octets[20..]),
        LinkType.Null => Packet.ParsePacket(LinkLayers.Raw, octets[4..]),
        _ => Packet.ParsePacket((LinkLayers)(int)link, octets),
    }).Extract<UdpPacket>();

    private static IEnumerable<string> Captures(string folder) =>
        Directory.EnumerateFiles(folder, "*.pcap*", SearchOption.AllDirectories)
            .Select(path => Path.GetRelativePath(folder, path).Replace('\\', '/'))
            .Order(StringComparer.Ordinal);
}
