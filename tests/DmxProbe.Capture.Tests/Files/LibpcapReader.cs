using DmxProbe.Testing.CaptureFiles;
using SharpPcap;
using SharpPcap.LibPcap;

namespace DmxProbe.Capture.Tests.Files;

/// <summary>Reads capture files with libpcap: an independent reader to compare ours with.</summary>
internal static class LibpcapReader
{
    public const string Absent = "needs libpcap (Debian: libpcap0.8)";

    /// <summary>Whether libpcap is on this machine.</summary>
    public static bool IsPresent { get; } = TryLoad();

    /// <summary>All packets of a file.</summary>
    public static List<LibpcapPacket> Read(string path)
    {
        using CaptureFileReaderDevice device = new(path);
        // Without this times are cut to microseconds.
        device.Open(new DeviceConfiguration { TimestampResolution = TimestampResolution.Nanosecond });
        List<LibpcapPacket> packets = [];
        while (true)
        {
            GetPacketStatus status = device.GetNextPacket(out PacketCapture packet);
            if (status == GetPacketStatus.NoRemainingPackets)
            {
                return packets;
            }

            // Only now may the data be looked at: at the end they have the old length and no memory behind them.
            Assert.True(status == GetPacketStatus.PacketRead, device.LastError);
            PcapHeader header = (PcapHeader)packet.Header;
            packets.Add(new LibpcapPacket(
                (long)(header.Timeval.Value * 1_000_000_000m), (int)header.PacketLength, Convert.ToHexString(packet.Data)));
        }
    }

    private static bool TryLoad()
    {
        try
        {
            return Read(CaptureVectors.PathOf("us_le.pcap")).Count == 1;
        }
        catch (DllNotFoundException absent) when (absent.Message.Contains("wpcap", StringComparison.Ordinal))
        {
            return false;
        }
        catch (PlatformNotSupportedException)
        {
            // Asked for nanoseconds, the wrapper looks at the library's version first; without a library that is "too old".
            return false;
        }
    }
}
