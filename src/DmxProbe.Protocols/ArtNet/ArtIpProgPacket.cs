using System.Buffers.Binary;
using DmxProbe.Protocols.Net;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtIpProg packet: a device's IP address set from afar (Art-Net 4, document 1.4dn, page 45), a view over the
/// payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtIpProgPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int Command = 14;
        public const int ProgIp = 16;
        public const int ProgMask = 20;
        public const int ProgPort = 24;
        public const int ProgGateway = 26;
        public const int End = 34;
    }

    /// <summary>Octets of the packet.</summary>
    public const int Length = Field.End;

    private readonly ReadOnlySpan<byte> _data;

    private ArtIpProgPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>What to set: bit 7 enable, 6 DHCP, 4 gateway, 3 default, 2 address, 1 mask, 0 port. 0 = only asks.</summary>
    public byte Command => _data[Field.Command];

    /// <summary>Whether anything is to be changed: bit 7 of Command.</summary>
    public bool IsProgramming => (Command & 0x80) != 0;

    /// <summary>Address to set.</summary>
    public IpAddress ProgIp => IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(_data[Field.ProgIp..]));

    /// <summary>Subnet mask to set.</summary>
    public IpAddress ProgMask => IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(_data[Field.ProgMask..]));

    /// <summary>Port to set; deprecated.</summary>
    public ushort ProgPort => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProgPort..]);

    /// <summary>Default gateway to set.</summary>
    public IpAddress ProgGateway => IpAddress.FromIpv4(BinaryPrimitives.ReadUInt32BigEndian(_data[Field.ProgGateway..]));

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 34 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtIpProgPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.IpProg, Length))
        {
            packet = new ArtIpProgPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.IpProg, Length);
        return false;
    }
}
