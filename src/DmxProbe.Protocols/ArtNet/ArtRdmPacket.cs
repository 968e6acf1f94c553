using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtRdm packet: an RDM message on its way (Art-Net 4, document 1.4dn, page 103), a view over the
/// payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtRdmPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int RdmVer = 12;
        public const int FifoAvail = 19;
        public const int FifoMax = 20;
        public const int Net = 21;
        public const int Command = 22;
        public const int Address = 23;
        public const int Message = 24;
    }

    /// <summary>Fewest octets accepted.</summary>
    public const int MinimumLength = Field.Message;

    private readonly ReadOnlySpan<byte> _data;

    private ArtRdmPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>RDM version; 1 = ANSI E1.20.</summary>
    public byte RdmVer => _data[Field.RdmVer];

    /// <summary>Free places in the sender's queue.</summary>
    public byte FifoAvail => _data[Field.FifoAvail];

    /// <summary>Places in the sender's queue.</summary>
    public byte FifoMax => _data[Field.FifoMax];

    /// <summary>Net octet as sent.</summary>
    public byte Net => _data[Field.Net];

    /// <summary>0 = process the message.</summary>
    public byte Command => _data[Field.Command];

    /// <summary>Port-Address, 0 to 32767.</summary>
    public int PortAddress => ((Net & 0x7F) << 8) | _data[Field.Address];

    /// <summary>The RDM message without its START code CCh: begins with the sub-START code 01h. May be empty.</summary>
    public ReadOnlySpan<byte> Message => _data[Field.Message..];

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 24 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtRdmPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.Rdm, MinimumLength))
        {
            packet = new ArtRdmPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.Rdm, MinimumLength);
        return false;
    }
}
