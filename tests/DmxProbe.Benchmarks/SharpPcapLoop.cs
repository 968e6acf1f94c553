using PacketDotNet;
using SharpPcap;
using SharpPcap.LibPcap;

namespace DmxProbe.Benchmarks;

/// <summary>The yardstick: general packet libraries read a file and parse each packet down to its UDP ports.</summary>
internal static class SharpPcapLoop
{
    /// <summary>Counts the UDP packets of a file.</summary>
    public static long Count(string path)
    {
        using CaptureFileReaderDevice device = new(path);
        device.Open();
        long count = 0;
        while (device.GetNextPacket(out PacketCapture captured) == GetPacketStatus.PacketRead)
        {
            RawCapture raw = captured.GetPacket();
            count += Packet.ParsePacket(raw.LinkLayerType, raw.Data).Extract<UdpPacket>() is null ? 0 : 1;
        }

        return count;
    }
}
