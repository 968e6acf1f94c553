using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Net;

/// <summary>ARP packet for IPv4 over Ethernet (RFC 826): who has which address; a view over what follows the EtherType.</summary>
public readonly ref struct ArpPacket
{
    private static class Field
    {
        public const int HardwareType = 0;
        public const int ProtocolType = 2;
        public const int HardwareLength = 4;
        public const int ProtocolLength = 5;
        public const int Operation = 6;
        public const int SenderHardware = 8;
        public const int SenderProtocol = 14;
        public const int TargetHardware = 18;
        public const int TargetProtocol = 24;
        public const int End = 28;
    }

    /// <summary>Octets of the packet.</summary>
    public const int Length = Field.End;

    private const int RequestOperation = 1;
    private const int ReplyOperation = 2;

    // Hardware type 1 (Ethernet), protocol type IPv4, lengths 6 and 4.
    private const ulong EthernetAndIpv4 = 0x0001_0800_0604;

    private readonly ReadOnlySpan<byte> _data;

    private ArpPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>1 request, 2 reply; others are rare.</summary>
    public ushort Operation => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Operation..]);

    /// <summary>Asks who has <see cref="TargetIp"/>.</summary>
    public bool IsRequest => Operation == RequestOperation;

    /// <summary>Answers that <see cref="SenderIp"/> is at <see cref="SenderMac"/>.</summary>
    public bool IsReply => Operation == ReplyOperation;

    /// <summary>The adapter that sent it, as it says itself.</summary>
    public MacAddress SenderMac => MacAddress.Read(_data[Field.SenderHardware..]);

    /// <summary>The address the sender claims; 0.0.0.0 while it only probes whether an address is free (RFC 5227).</summary>
    public IpAddress SenderIp => IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(_data[Field.SenderProtocol..]));

    /// <summary>The adapter it is for; means nothing in a request.</summary>
    public MacAddress TargetMac => MacAddress.Read(_data[Field.TargetHardware..]);

    /// <summary>The address asked for or answered to.</summary>
    public IpAddress TargetIp => IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(_data[Field.TargetProtocol..]));

    /// <summary>Whether the sender claims no address yet: a probe (RFC 5227).</summary>
    public bool IsProbe => SenderIp.Low == 0;

    /// <summary>Whether it tells an address unasked: sender and target address are the same.</summary>
    public bool IsAnnouncement => !IsProbe && SenderIp == TargetIp;

    /// <summary>Makes the view.</summary>
    /// <param name="data">What follows the EtherType, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other hardware or protocol. Truncated: fewer than 28 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArpPacket packet, out WireError error)
    {
        packet = default;
        if (data.Length < Length)
        {
            error = WireError.Truncated(Length, data.Length);
            return false;
        }

        ulong kind = BinaryPrimitives.ReadUInt64BigEndian(data) >> 16;
        if (kind != EthernetAndIpv4)
        {
            error = new WireError(WireErrorKind.NotThisProtocol, Field.HardwareType, (long)EthernetAndIpv4, (long)kind);
            return false;
        }

        packet = new ArpPacket(data[..Length]);
        error = default;
        return true;
    }
}
