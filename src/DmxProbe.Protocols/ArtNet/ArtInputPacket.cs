using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtInput packet: inputs enabled or disabled (Art-Net 4, document 1.4dn, page 86), a view over the payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtInputPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int BindIndex = 13;
        public const int NumPorts = 14;
        public const int Input = 16;
        public const int End = 20;
    }

    /// <summary>Octets of the packet.</summary>
    public const int Length = Field.End;

    private readonly ReadOnlySpan<byte> _data;

    private ArtInputPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>Which part of a device with more than four ports is meant; 0 or 1 = root device.</summary>
    public byte BindIndex => _data[Field.BindIndex];

    /// <summary>How many ports it is about; at most 4.</summary>
    public ushort NumPorts => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.NumPorts..]);

    /// <summary>Four octets, one a port: bit 0 = disable.</summary>
    public ReadOnlySpan<byte> Input => _data[Field.Input..Field.End];

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 20 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtInputPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.Input, Length))
        {
            packet = new ArtInputPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.Input, Length);
        return false;
    }
}
