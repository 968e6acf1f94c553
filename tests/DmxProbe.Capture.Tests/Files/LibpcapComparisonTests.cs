using DmxProbe.Capture.Files;
using DmxProbe.Protocols.CaptureFiles;
using DmxProbe.Protocols.Records;
using DmxProbe.Testing.CaptureFiles;
using DmxProbe.Testing.Files;

namespace DmxProbe.Capture.Tests.Files;

public sealed class LibpcapComparisonTests : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("dmxprobe");

    public static TheoryData<string> Vectors() => [.. CaptureVectors.Names];

    // shared/captures/PROVENANCE.md: real captures and captures of independent protocol libraries.
    public static TheoryData<string, int> Recordings() => new()
    {
        { "gen_artnet_any_sll2.pcap", 0 },
        { "gen_artnet_artnetlib_partial.pcap", 325 },
        { "gen_artnet_dmxnet_poll.pcap", 549 },
        { "gen_artnet_loopback.pcap", 0 },
        { "gen_artnet_vlan20_qinq.pcap", 0 },
        { "gen_sacn_two_sources_terminate.pcap", 812 },
        { "real_sacn_data_sync_discovery_4pk.pcapng", 4 },
        { "real_sacn_loopback_null_u1.pcapng", 110 },
    };

    public void Dispose() => _folder.Delete(recursive: true);

    [SkippableTheory]
    [MemberData(nameof(Vectors))]
    public void Our_reader_and_libpcap_agree_on_every_constructed_packet(string name)
    {
        Skip.IfNot(LibpcapReader.IsPresent, LibpcapReader.Absent);
        AssertSame(CaptureVectors.PathOf(name));
    }

    [SkippableTheory]
    [MemberData(nameof(Recordings))]
    public void Our_reader_and_libpcap_agree_on_every_recorded_packet(string name, int packets)
    {
        string? path = Places.SharedFile("captures", "net", name);
        Skip.If(path is null, Places.NoShared);
        Skip.IfNot(LibpcapReader.IsPresent, LibpcapReader.Absent);
        int count = AssertSame(path);
        Assert.True(packets == 0 ? count > 0 : count == packets, $"{count} packets");
    }

    [SkippableTheory]
    [InlineData(9)]
    [InlineData(6)]
    [InlineData(3)]
    public void Libpcap_reads_what_our_writer_wrote(int resolution)
    {
        Skip.IfNot(LibpcapReader.IsPresent, LibpcapReader.Absent);
        string path = Path.Combine(_folder.FullName, "written.pcapng");
        long unit = resolution switch { 9 => 1, 6 => 1_000, _ => 1_000_000 };
        Random random = new(resolution);
        List<LibpcapPacket> expected = [];
        using (PcapngWriter writer = new(File.Create(path), "DmxProbe"))
        {
            // One link type and one snap length in all interfaces: what libpcap asks of a file.
            writer.AddInterface("stage left", "mirror port", LinkType.Ethernet, 65_535, resolution);
            writer.AddInterface("stage right", "", LinkType.Ethernet, 65_535, resolution, 1_000_000_000);
            for (int i = 0; i < 2_000; i++)
            {
                byte[] data = new byte[random.Next(1_500)];
                random.NextBytes(data);
                long time = 1_700_000_000_000_000_000 + random.NextInt64(1_000_000_000_000);
                writer.WritePacket(
                    i % 2, Timestamp.FromUnixNanoseconds(time), data, data.Length + 4, i % 3 == 0 ? "a note" : null, i % 5);
                writer.WriteRawBlock(0x80000001, data.AsSpan(0, data.Length / 20));
                expected.Add(new LibpcapPacket(time / unit * unit, data.Length + 4, Convert.ToHexString(data)));
            }

            writer.WriteStatistics(0, Timestamp.FromUnixNanoseconds(1_700_000_000_000_000_000), 2_000, 5);
        }

        Assert.Equal(expected, LibpcapReader.Read(path));
        AssertSame(path);
    }

    // Times of many resolutions: libpcap 1.10 scales 10^-n and 2^-n as whole numbers too.
    [SkippableTheory]
    [InlineData(0x00)]
    [InlineData(0x03)]
    [InlineData(0x06)]
    [InlineData(0x09)]
    [InlineData(0x0A)]
    [InlineData(0x0C)]
    [InlineData(0x86)]
    [InlineData(0x8A)]
    [InlineData(0x9E)]
    public void Our_times_and_those_of_libpcap_agree_for_every_kind_of_resolution(byte resolution)
    {
        Skip.IfNot(LibpcapReader.IsPresent, LibpcapReader.Absent);
        bool binary = (resolution & 0x80) != 0;
        double unitsPerSecond = Math.Pow(binary ? 2 : 10, resolution & 0x7F);
        Random random = new(resolution);
        foreach (bool bigEndian in (bool[])[false, true])
        {
            CaptureBytes bytes = new CaptureBytes(bigEndian).Section()
                .Interface(1, 1_000, o => o.Option(9, [resolution]).Option(14, 1_000));
            for (int i = 0; i < 300; i++)
            {
                bytes.Enhanced(0, (ulong)(random.NextDouble() * 1_000_000 * unitsPerSecond), [(byte)(i & 0xFF)]);
            }

            string path = Path.Combine(_folder.FullName, "times.pcapng");
            File.WriteAllBytes(path, bytes.ToArray());
            Assert.Equal(300, AssertSame(path));
        }
    }

    private static int AssertSame(string path)
    {
        using ICaptureSource source = CaptureFile.Open(path);
        CapturedFile ours = CapturedFile.Read(source);
        List<LibpcapPacket> theirs = LibpcapReader.Read(path);
        Assert.Null(ours.Problem);
        List<CapturedRecord> packets = [.. ours.Records.Where(r => r.Kind == RecordKind.Packet)];
        Assert.Equal(theirs.Count, packets.Count);
        for (int i = 0; i < packets.Count; i++)
        {
            // A simple packet block has no time: libpcap gives 0 plus if_tsoffset, we give the time before it and say so.
            long time = packets[i].HasTime ? packets[i].Time.UnixNanoseconds : theirs[i].UnixNanoseconds;
            Assert.Equal(theirs[i], new LibpcapPacket(time, packets[i].OriginalLength, packets[i].Data));
        }

        return packets.Count;
    }
}
