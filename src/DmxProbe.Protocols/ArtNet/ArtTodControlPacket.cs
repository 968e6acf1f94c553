using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtTodControl packet: starts and ends RDM discovery (Art-Net 4, document 1.4dn, page 101), a view over the payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtTodControlPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int Net = 21;
        public const int Command = 22;
        public const int Address = 23;
        public const int End = 24;
    }

    /// <summary>Octets of the packet.</summary>
    public const int Length = Field.End;

    private readonly ReadOnlySpan<byte> _data;

    private ArtTodControlPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>Net octet as sent.</summary>
    public byte Net => _data[Field.Net];

    /// <summary>0 nothing, 1 flush the table and discover anew, 2 end, 3 incremental discovery on, 4 off.</summary>
    public byte Command => _data[Field.Command];

    /// <summary>Port-Address, 0 to 32767.</summary>
    public int PortAddress => ((Net & 0x7F) << 8) | _data[Field.Address];

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 24 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtTodControlPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.TodControl, Length))
        {
            packet = new ArtTodControlPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.TodControl, Length);
        return false;
    }
}
