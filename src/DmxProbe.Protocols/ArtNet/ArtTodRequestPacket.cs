using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtTodRequest packet: asks for the tables of RDM devices (Art-Net 4, document 1.4dn, page 96), a view over the
/// payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtTodRequestPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int Net = 21;
        public const int Command = 22;
        public const int AddCount = 23;
        public const int Address = 24;
        public const int End = 56;
    }

    /// <summary>Fewest octets accepted.</summary>
    public const int MinimumLength = Field.Address;

    /// <summary>Octets of the packet as the document has it.</summary>
    public const int FullLength = Field.End;

    /// <summary>Most Port-Addresses of one request.</summary>
    public const int MaximumAddresses = Field.End - Field.Address;

    private readonly ReadOnlySpan<byte> _data;

    private ArtTodRequestPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>Net octet as sent.</summary>
    public byte Net => _data[Field.Net];

    /// <summary>0 = TodFull: send the whole table.</summary>
    public byte Command => _data[Field.Command];

    /// <summary>How many Port-Addresses are stated; at most 32.</summary>
    public byte AddCount => _data[Field.AddCount];

    /// <summary>How many Port-Addresses it holds: as many as are stated, allowed and present.</summary>
    public int Count => Math.Min(Math.Min((int)AddCount, MaximumAddresses), _data.Length - Field.Address);

    /// <summary>A Port-Address asked for, 0 to 32767.</summary>
    /// <param name="index">From 0 to below <see cref="Count"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The index is outside the list.</exception>
    public int PortAddress(int index)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(index, Count);
        return ((Net & 0x7F) << 8) | _data[Field.Address + index];
    }

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 24 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtTodRequestPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.TodRequest, MinimumLength))
        {
            packet = new ArtTodRequestPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.TodRequest, MinimumLength);
        return false;
    }
}
