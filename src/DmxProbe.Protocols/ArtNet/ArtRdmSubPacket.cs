using System.Buffers.Binary;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtRdmSub packet: values of many RDM sub-devices at once (Art-Net 4, document 1.4dn, page 105), a view over the
/// payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtRdmSubPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int RdmVer = 12;
        public const int Uid = 14;
        public const int CommandClass = 21;
        public const int ParameterId = 22;
        public const int SubDevice = 24;
        public const int SubCount = 26;
        public const int Data = 32;
    }

    /// <summary>Fewest octets accepted.</summary>
    public const int MinimumLength = Field.Data;

    private readonly ReadOnlySpan<byte> _data;

    private ArtRdmSubPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>RDM version; 1 = ANSI E1.20.</summary>
    public byte RdmVer => _data[Field.RdmVer];

    /// <summary>The device.</summary>
    public RdmUid Uid => RdmUid.Read(_data[Field.Uid..]);

    /// <summary>RDM command class.</summary>
    public byte CommandClass => _data[Field.CommandClass];

    /// <summary>RDM parameter.</summary>
    public ushort ParameterId => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ParameterId..]);

    /// <summary>First sub-device; 0 = root.</summary>
    public ushort SubDevice => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.SubDevice..]);

    /// <summary>How many sub-devices.</summary>
    public ushort SubCount => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.SubCount..]);

    /// <summary>Values, two octets each; may be empty.</summary>
    public ReadOnlySpan<byte> Data => _data[Field.Data..];

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 32 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtRdmSubPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.RdmSub, MinimumLength))
        {
            packet = new ArtRdmSubPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.RdmSub, MinimumLength);
        return false;
    }
}
