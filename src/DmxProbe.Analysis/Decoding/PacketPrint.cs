using DmxProbe.Protocols.Net;

namespace DmxProbe.Analysis.Decoding;

/// <summary>
/// What tells a packet that was captured twice from one that was sent twice: identification and hop limit of its IP
/// header, UDP checksum, VLAN and the interface it was captured on, in 64 bits. The default value: not from a network.
/// </summary>
/// <param name="Value">Identification (16 bits), checksum (16), hop limit (8), VLAN with 4095 for none (12), interface (12).</param>
public readonly record struct PacketPrint(ulong Value)
{
    private const ulong Twelve = 0xFFF;

    /// <summary>Identification of the IP header, its lower 16 bits; 0 says nothing: many systems leave it so.</summary>
    public int Identification => (int)(Value >> 48);

    /// <summary>UDP checksum as sent.</summary>
    public int Checksum => (int)(Value >> 32 & ushort.MaxValue);

    /// <summary>Time to live or hop limit.</summary>
    public int HopLimit => (int)(Value >> 24 & byte.MaxValue);

    /// <summary>VLAN of the innermost tag; 4095 = no tag.</summary>
    public int Vlan => (int)(Value >> 12 & Twelve);

    /// <summary>Interface it was captured on, its lower 12 bits.</summary>
    public int InterfaceId => (int)(Value & Twelve);

    /// <summary>Makes the print of a datagram.</summary>
    public static PacketPrint Of(in NetworkDatagram datagram, int interfaceId) => new(unchecked(
        ((ulong)datagram.IpIdentification << 48)
        | ((ulong)datagram.UdpChecksum << 32)
        | ((ulong)datagram.TimeToLive << 24)
        | (((ulong)datagram.VlanId & Twelve) << 12)
        | ((ulong)interfaceId & Twelve)));
}
