using System.Buffers.Binary;
using System.Net;
using System.Net.Sockets;
using DmxProbe.Capture.Live;
using DmxProbe.Protocols.Net;

namespace DmxProbe.Capture.Sockets;

/// <summary>Which of this computer's IPv4 subnets an address lies in.</summary>
internal static class Subnet
{
    /// <summary>The interface and its address in the subnet of a host; null where none is.</summary>
    public static (InterfaceInfo Through, IpAddress Own)? Of(IEnumerable<InterfaceInfo> interfaces, IpAddress host)
    {
        IPAddress address = IPAddress.Parse(host.ToString());
        foreach (InterfaceInfo each in interfaces)
        {
            foreach (InterfaceAddress own in each.Addresses)
            {
                if (own.Address.AddressFamily == AddressFamily.InterNetwork && own.Holds(address))
                {
                    return (each, IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(own.Address.GetAddressBytes())));
                }
            }
        }

        return null;
    }
}
