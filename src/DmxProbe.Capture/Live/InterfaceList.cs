using System.Net.NetworkInformation;

namespace DmxProbe.Capture.Live;

/// <summary>The network interfaces of this computer.</summary>
public static class InterfaceList
{
    /// <summary>Reads them as they are now, in the order of their number; empty where the system refuses.</summary>
    public static IReadOnlyList<InterfaceInfo> Read()
    {
        try
        {
            return
            [
                .. NetworkInterface.GetAllNetworkInterfaces()
                    .Select(Describe)
                    .OfType<InterfaceInfo>()
                    .OrderBy(each => each.Index),
            ];
        }
        catch (NetworkInformationException)
        {
            return [];
        }
    }

    private static InterfaceInfo? Describe(NetworkInterface each)
    {
        try
        {
            IPInterfaceProperties properties = each.GetIPProperties();
            return new InterfaceInfo(
                each.Name,
                Index(each, properties),
                [.. properties.UnicastAddresses.Select(address => new InterfaceAddress(address.Address, address.PrefixLength))],
                Speed(each),
                each.OperationalStatus is OperationalStatus.Up or OperationalStatus.Unknown,
                each.NetworkInterfaceType == NetworkInterfaceType.Wireless80211 || IsWirelessOnLinux(each.Name),
                each.NetworkInterfaceType == NetworkInterfaceType.Loopback);
        }
        catch (NetworkInformationException)
        {
            return null; // it went away while it was being asked
        }
        catch (IOException)
        {
            return null;
        }
    }

    private static int Index(NetworkInterface each, IPInterfaceProperties properties)
    {
        try
        {
            if (each.Supports(NetworkInterfaceComponent.IPv4))
            {
                return properties.GetIPv4Properties().Index;
            }

            return properties.GetIPv6Properties().Index;
        }
        catch (NetworkInformationException)
        {
            return 0;
        }
    }

    private static long? Speed(NetworkInterface each)
    {
        if (each.NetworkInterfaceType == NetworkInterfaceType.Loopback)
        {
            return null;
        }

        try
        {
            // Adapters that do not know say "all ones", here as Mbit/s.
            return each.Speed is > 0 and < uint.MaxValue * 1_000_000L ? each.Speed : null;
        }
        catch (Exception unknown) when (unknown is NetworkInformationException or PlatformNotSupportedException or OverflowException)
        {
            return null;
        }
    }

    private static bool IsWirelessOnLinux(string name) =>
        OperatingSystem.IsLinux()
        && !name.Contains('/', StringComparison.Ordinal)
        && (Directory.Exists($"/sys/class/net/{name}/wireless") || Directory.Exists($"/sys/class/net/{name}/phy80211"));
}
