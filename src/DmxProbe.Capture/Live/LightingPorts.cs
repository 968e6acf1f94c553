using System.Net.NetworkInformation;
using DmxProbe.Capture.Pcap;
using DmxProbe.Capture.Sockets;
using DmxProbe.Protocols.ArtNet;
using DmxProbe.Protocols.Sacn;

namespace DmxProbe.Capture.Live;

/// <summary>Whether the network words can be used on this computer just now. Looking opens nothing.</summary>
public static class LightingPorts
{
    /// <summary>Why <c>net</c> cannot be used: who has one of the UDP ports; empty when it can.</summary>
    public static string NetInUse()
    {
        try
        {
            HashSet<int> taken = [.. IPGlobalProperties.GetIPGlobalProperties().GetActiveUdpListeners().Select(listener => listener.Port)];
            int port = new int[] { ArtNetHeader.Port, SacnAddressing.Port }.FirstOrDefault(taken.Contains);
            return port == 0 ? "" : $"UDP port {port} is taken{PortOwner.Of(port)}";
        }
        catch (Exception unseen) when (unseen is NetworkInformationException or PlatformNotSupportedException)
        {
            return "";
        }
    }

    /// <summary>Why <c>nic:</c> cannot be used; empty when the library for it is there.</summary>
    public static string NicMissing() => PcapLibrary.IsPresent ? "" : "libpcap is not on this computer";
}
