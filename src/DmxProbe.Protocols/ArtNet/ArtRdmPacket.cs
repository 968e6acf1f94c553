using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtRdm packet: one RDM message without its START code (Art-Net 4, document 1.4dn, page 103); a view over the payload of
/// a UDP datagram.
/// </summary>
public readonly ref struct ArtRdmPacket
{
    private static class Field
    {
        public const int RdmVer = 12;
        public const int FifoAvail = 19;
        public const int FifoMax = 20;
        public const int Net = 21;
        public const int Command = 22;
        public const int Address = 23;
        public const int Message = 24;
    }

    /// <summary>Octets before the RDM message.</summary>
    public const int HeaderLength = Field.Message;

    private readonly ReadOnlySpan<byte> _data;

    private ArtRdmPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>RDM version as sent; 1 for the ratified one.</summary>
    public byte RdmVer => _data[Field.RdmVer];

    /// <summary>Free places in the sender's queue of RDM messages; 0 where it does not say.</summary>
    public byte FifoAvail => _data[Field.FifoAvail];

    /// <summary>All places of that queue; 0 where it does not say.</summary>
    public byte FifoMax => _data[Field.FifoMax];

    /// <summary>Command; 0 = process the message.</summary>
    public byte Command => _data[Field.Command];

    /// <summary>Port-Address, 0 to 32767 (page 20).</summary>
    public int PortAddress => ((_data[Field.Net] & 0x7F) << 8) | _data[Field.Address];

    /// <summary>The RDM message from its sub-START code on, as far as captured.</summary>
    public ReadOnlySpan<byte> Message => _data[Field.Message..];

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 24 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtRdmPacket packet, out WireError error)
    {
        bool isRead = ArtNetHeader.Is(data, ArtOpCode.Rdm, HeaderLength);
        packet = isRead ? new ArtRdmPacket(data) : default;
        error = isRead ? default : ArtNetHeader.Refuse(data, ArtOpCode.Rdm, HeaderLength);
        return isRead;
    }
}
