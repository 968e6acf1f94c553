using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtDataRequest packet: asks a device for a text such as an address on the web (Art-Net 4, document 1.4dn, page 58), a view over the
/// payload of a UDP datagram. Its length is the document's; the offsets of its fields are from memory.
/// </summary>
public readonly ref struct ArtDataRequestPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int EstaMan = 12;
        public const int Oem = 14;
        public const int Request = 16;
        public const int End = 40;
    }

    /// <summary>Octets of the packet.</summary>
    public const int Length = Field.End;

    private readonly ReadOnlySpan<byte> _data;

    private ArtDataRequestPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>Manufacturer code of the device asked (offset from memory).</summary>
    public ushort EstaMan => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.EstaMan..]);

    /// <summary>Oem code of the device asked (offset from memory).</summary>
    public ushort Oem => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Oem..]);

    /// <summary>What is asked for (offset from memory).</summary>
    public ushort Request => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Request..]);

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 40 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtDataRequestPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.DataRequest, Length))
        {
            packet = new ArtDataRequestPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.DataRequest, Length);
        return false;
    }
}
