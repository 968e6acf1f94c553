using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtDiagData packet: a text for the person in charge (Art-Net 4, document 1.4dn, page 62), a view over the payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtDiagDataPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int Priority = 13;
        public const int LogicalPort = 14;
        public const int TextLength = 16;
        public const int Data = 18;
    }

    /// <summary>Fewest octets accepted.</summary>
    public const int MinimumLength = Field.Data;

    private readonly ReadOnlySpan<byte> _data;

    private ArtDiagDataPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>How much it matters: 10h low, 40h medium, 80h high, E0h critical, F0h volatile.</summary>
    public byte Priority => _data[Field.Priority];

    /// <summary>Port it is about; 0 = the device.</summary>
    public byte LogicalPort => _data[Field.LogicalPort];

    /// <summary>Length field as sent.</summary>
    public ushort TextLength => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.TextLength..]);

    /// <summary>Text octets up to a zero octet, as many as are both stated and present; escape before showing.</summary>
    public ReadOnlySpan<byte> Text =>
        TextField.UpToZero(_data.Slice(Field.Data, Math.Min(TextLength, _data.Length - Field.Data)));

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 18 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtDiagDataPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.DiagData, MinimumLength))
        {
            packet = new ArtDiagDataPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.DiagData, MinimumLength);
        return false;
    }
}
