using System.Net;

namespace DmxProbe.Testing.Network.Packets;

/// <summary>
/// Ethernet frames of the network itself, constructed from RFC 826 (ARP), 2236 and 3376 (IGMP), 3810 (MLD) and 791 (fragments).
/// </summary>
public static class NetworkFrames
{
    private const int Query = 0x11;
    private const int Version1Report = 0x12;
    private const int Version2Report = 0x16;
    private const int Version2Leave = 0x17;
    private const int Fragmented = 1480;

    /// <summary>An ARP packet: who the sender says it is, and whom it asks for or answers.</summary>
    public static byte[] Arp(byte[] mac, string address, string target, bool isReply = false) => new PacketBytes()
        .Raw([255, 255, 255, 255, 255, 255]).Raw(mac).U16(0x0806)
        .U16(1).U16(0x0800).U8(6).U8(4).U16(isReply ? 2 : 1)
        .Raw(mac).Raw(IPAddress.Parse(address).GetAddressBytes())
        .Zeros(6).Raw(IPAddress.Parse(target).GetAddressBytes())
        .ToArray();

    /// <summary>A general IGMPv2 query.</summary>
    public static byte[] IgmpQuery(Host from) => Igmp(from, "224.0.0.1", [Query, 100, 0, 0, 0, 0, 0, 0]);

    /// <summary>An IGMPv2 report of a host that listens to a universe's group.</summary>
    public static byte[] IgmpJoin(Host from, int universe, int version = 2) =>
        Igmp(from, Group(universe), [version == 1 ? (byte)Version1Report : (byte)Version2Report, 0, 0, 0, 239, 255, (byte)(universe >> 8), (byte)universe]);

    /// <summary>An IGMPv2 leave message.</summary>
    public static byte[] IgmpLeave(Host from, int universe) =>
        Igmp(from, "224.0.0.2", [Version2Leave, 0, 0, 0, 239, 255, (byte)(universe >> 8), (byte)universe]);

    /// <summary>An MLDv2 report of a host that listens to a universe's group (checksum left 0).</summary>
    public static byte[] MldJoin(Host from, int universe) => new PacketBytes()
        .Raw([0x33, 0x33, 0, 0, 0, 0x16]).Raw(from.Mac).U16(0x86DD)
        .U32(0x60000000).U16(36).U8(0).U8(1).Raw(from.Ipv6.GetAddressBytes()).Raw(IPAddress.Parse("ff02::16").GetAddressBytes())
        .U8(58).U8(0).U8(5).U8(2).U16(0).U8(1).U8(0)
        .U8(143).U8(0).U16(0).U16(0).U16(1)
        .U8(4).U8(0).U16(0).Raw([0xFF, 0x18, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0x83, 0]).U16(universe)
        .ToArray();

    /// <summary>A frame taken apart into two IPv4 fragments; its UDP payload is made longer than one packet holds.</summary>
    /// <param name="path">From where to where.</param>
    /// <param name="payload">The payload that the datagram begins with.</param>
    /// <param name="identification">What the fragments share.</param>
    public static byte[][] Fragments(UdpPath path, ReadOnlySpan<byte> payload, int identification)
    {
        byte[] whole = UdpFrames.Build(path, [.. payload, .. new byte[2000 - payload.Length]], identification);
        const int headers = 14 + 20;
        byte[] first = whole[..(headers + Fragmented)];
        byte[] second = [.. whole[..headers], .. whole[(headers + Fragmented)..]];
        SetLength(first, 20 + Fragmented);
        SetLength(second, 20 + second.Length - headers);
        first[20] = 0x20;
        second[20] = 0;
        second[21] = Fragmented / 8;
        return [first, second];
    }

    private static void SetLength(byte[] frame, int length) => (frame[16], frame[17]) = ((byte)(length >> 8), (byte)(length & 0xFF));

    private static string Group(int universe) => new IPAddress([239, 255, (byte)(universe >> 8), (byte)universe]).ToString();

    private static byte[] Igmp(Host from, string group, byte[] message)
    {
        byte[] to = IPAddress.Parse(group).GetAddressBytes();
        return new PacketBytes()
            .Raw([0x01, 0x00, 0x5E, (byte)(to[1] & 0x7F), to[2], to[3]]).Raw(from.Mac).U16(0x0800)
            .U8(0x45).U8(0).U16(20 + message.Length).U16(0).U16(0).U8(1).U8(2).U16(0)
            .Raw(from.Ipv4.GetAddressBytes()).Raw(to)
            .Raw(message)
            .ToArray();
    }
}
