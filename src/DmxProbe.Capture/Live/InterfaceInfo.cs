using System.Net;
using System.Net.Sockets;

namespace DmxProbe.Capture.Live;

/// <summary>A network interface of this computer at one moment.</summary>
/// <param name="Name">Its name: <c>eth0</c>. Untrusted text.</param>
/// <param name="Index">The system's number for it.</param>
/// <param name="Addresses">Its addresses.</param>
/// <param name="LinkBitsPerSecond">Link speed; null where the system does not know one.</param>
/// <param name="IsUp">Whether it has a link.</param>
/// <param name="IsWireless">Whether it goes through the air.</param>
/// <param name="IsLoopback">Whether it ends in this computer.</param>
public sealed record InterfaceInfo(
    string Name,
    int Index,
    IReadOnlyList<InterfaceAddress> Addresses,
    long? LinkBitsPerSecond,
    bool IsUp,
    bool IsWireless,
    bool IsLoopback)
{
    /// <summary>Its first IPv4 address, or null.</summary>
    public IPAddress? Ipv4 => First(AddressFamily.InterNetwork);

    /// <summary>Its first IPv6 address, or null.</summary>
    public IPAddress? Ipv6 => First(AddressFamily.InterNetworkV6);

    /// <summary>Name and addresses for a sentence: <c>eth0 (192.0.2.2/24)</c>.</summary>
    public string Described => Addresses.Count == 0
        ? $"{Name} (no address)"
        : $"{Name} ({string.Join(", ", Addresses.Where(address => address.Address.AddressFamily == AddressFamily.InterNetwork).DefaultIfEmpty(Addresses[0]))})";

    private IPAddress? First(AddressFamily family) =>
        Addresses.FirstOrDefault(address => address.Address.AddressFamily == family)?.Address;
}
