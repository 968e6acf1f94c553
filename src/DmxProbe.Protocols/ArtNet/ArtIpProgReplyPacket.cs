using System.Buffers.Binary;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtIpProgReply packet: what a device is set to (Art-Net 4, document 1.4dn, page 47), a view over the payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtIpProgReplyPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int ProgIp = 16;
        public const int ProgMask = 20;
        public const int ProgPort = 24;
        public const int Status = 26;
        public const int ProgGateway = 28;
        public const int End = 34;
    }

    /// <summary>Octets of the packet.</summary>
    public const int Length = Field.End;

    private readonly ReadOnlySpan<byte> _data;

    private ArtIpProgReplyPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>Address of the device.</summary>
    public IpAddress ProgIp => IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(_data[Field.ProgIp..]));

    /// <summary>Its subnet mask.</summary>
    public IpAddress ProgMask => IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(_data[Field.ProgMask..]));

    /// <summary>Its port; deprecated.</summary>
    public ushort ProgPort => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProgPort..]);

    /// <summary>Status octet: bit 6 DHCP.</summary>
    public byte Status => _data[Field.Status];

    /// <summary>Whether it took its address by DHCP.</summary>
    public bool IsDhcp => (Status & 0x40) != 0;

    /// <summary>Its default gateway; 0.0.0.0 in editions that do not fill it.</summary>
    public IpAddress ProgGateway => IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(_data[Field.ProgGateway..]));

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 34 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtIpProgReplyPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.IpProgReply, Length))
        {
            packet = new ArtIpProgReplyPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.IpProgReply, Length);
        return false;
    }
}
