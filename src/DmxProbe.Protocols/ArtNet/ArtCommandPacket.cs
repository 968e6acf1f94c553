using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtCommand packet: text commands (Art-Net 4, document 1.4dn, page 66), a view over the payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtCommandPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int EstaMan = 12;
        public const int TextLength = 14;
        public const int Data = 16;
    }

    /// <summary>Fewest octets accepted.</summary>
    public const int MinimumLength = Field.Data;

    private readonly ReadOnlySpan<byte> _data;

    private ArtCommandPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>Manufacturer code the commands are for; FFFFh = everybody.</summary>
    public ushort EstaMan => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.EstaMan..]);

    /// <summary>Length field as sent.</summary>
    public ushort TextLength => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.TextLength..]);

    /// <summary>Text octets "key=value&amp;" up to a zero octet, as many as are both stated and present; escape before showing.</summary>
    public ReadOnlySpan<byte> Text =>
        TextField.UpToZero(_data.Slice(Field.Data, Math.Min(TextLength, _data.Length - Field.Data)));

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 16 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtCommandPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.Command, MinimumLength))
        {
            packet = new ArtCommandPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.Command, MinimumLength);
        return false;
    }
}
