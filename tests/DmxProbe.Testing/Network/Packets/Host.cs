using System.Globalization;
using System.Net;

namespace DmxProbe.Testing.Network.Packets;

/// <summary>A machine on the simulated network.</summary>
/// <param name="Name">What we call it.</param>
/// <param name="Mac">Its adapter, 6 octets.</param>
/// <param name="Ipv4">Its IPv4 address.</param>
/// <param name="Ipv6">Its IPv6 address.</param>
public sealed record Host(string Name, byte[] Mac, IPAddress Ipv4, IPAddress Ipv6)
{
    /// <summary>
    /// A host with the IPv4 address given; MAC (locally administered) and IPv6 address (of the range for documentation,
    /// RFC 3849) follow from it.
    /// </summary>
    public static Host At(string name, string ipv4)
    {
        IPAddress address = IPAddress.Parse(ipv4);
        byte[] b = address.GetAddressBytes();
        string ipv6 = string.Create(CultureInfo.InvariantCulture, $"2001:db8::{b[2]:x}:{b[3]:x}");
        return new Host(name, [2, 0, b[0], b[1], b[2], b[3]], address, IPAddress.Parse(ipv6));
    }
}
