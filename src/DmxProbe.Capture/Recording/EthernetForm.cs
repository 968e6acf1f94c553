using System.Buffers.Binary;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Capture.Recording;

/// <summary>
/// Puts an Ethernet header in place of another link header, so that all packets of a recording have one link type. What
/// stands behind the header is not touched; where the other header has no addresses, they are zero.
/// </summary>
internal static class EthernetForm
{
    private const int Addresses = 12;
    private const int AddressLength = 6;
    private const int HeaderLength = 14;

    /// <summary>Says in an interface's description what was done.</summary>
    public static string Describe(CaptureInterface face) =>
        (face.Description.Length > 0 ? face.Description + "; " : "") + $"Ethernet header made by DmxProbe, captured as link type {(int)face.LinkType}";

    /// <summary>Writes the packet with an Ethernet header.</summary>
    /// <param name="link">Link type of the packet.</param>
    /// <param name="data">The packet.</param>
    /// <param name="target">At least 14 octets longer than the packet.</param>
    /// <param name="length">Octets written.</param>
    /// <returns>False where the link type is not known or the header is no whole one of it.</returns>
    public static bool TryWrite(LinkType link, ReadOnlySpan<byte> data, Span<byte> target, out int length)
    {
        length = 0;
        if (link == LinkType.Ethernet || !LinkHeader.TryFindNetworkLayer(link, data, out ushort etherType, out int offset, out _, out _))
        {
            return false;
        }

        target[..Addresses].Clear();
        ReadOnlySpan<byte> rest;
        switch (link)
        {
            case LinkType.LinuxSll: // address at 6, protocol at 14, then tags and payload
                data.Slice(6, AddressLength).CopyTo(target[AddressLength..]);
                data.Slice(14, 2).CopyTo(target[Addresses..]);
                rest = data[16..];
                break;
            case LinkType.LinuxSll2: // protocol at 0, address at 12, then tags and payload from 20
                data.Slice(12, AddressLength).CopyTo(target[AddressLength..]);
                data[..2].CopyTo(target[Addresses..]);
                rest = data[20..];
                break;
            default:
                BinaryPrimitives.WriteUInt16BigEndian(target[Addresses..], etherType);
                rest = data[offset..];
                break;
        }

        rest.CopyTo(target[HeaderLength..]);
        length = HeaderLength + rest.Length;
        return true;
    }
}
