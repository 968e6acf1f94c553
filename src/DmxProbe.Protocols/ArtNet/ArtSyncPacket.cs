using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>ArtSync packet (Art-Net 4, document 1.4dn, page 78), a view over the payload of a UDP datagram.</summary>
public readonly ref struct ArtSyncPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int Aux = 12;
        public const int End = 14;
    }

    /// <summary>Octets of the packet.</summary>
    public const int Length = Field.End;

    private readonly ReadOnlySpan<byte> _data;

    private ArtSyncPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>Aux1 and Aux2, sent as 0.</summary>
    public ushort Aux => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Aux..]);

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 14 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtSyncPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.Sync, Length))
        {
            packet = new ArtSyncPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.Sync, Length);
        return false;
    }
}
