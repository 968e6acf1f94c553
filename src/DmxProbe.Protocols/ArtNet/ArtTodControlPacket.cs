using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtTodControl packet: tells a gateway how to discover RDM devices (Art-Net 4, document 1.4dn, page 101); a view over the
/// payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtTodControlPacket
{
    private static class Field
    {
        public const int Net = 21;
        public const int Command = 22;
        public const int Address = 23;
        public const int End = 24;
    }

    /// <summary>Octets of the packet.</summary>
    public const int Length = Field.End;

    private readonly ReadOnlySpan<byte> _data;

    private ArtTodControlPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>0 none, 1 forget the table and discover anew, 2 end discovery, 3 incremental discovery on, 4 off.</summary>
    public byte Command => _data[Field.Command];

    /// <summary>Port-Address, 0 to 32767 (page 20).</summary>
    public int PortAddress => ((_data[Field.Net] & 0x7F) << 8) | _data[Field.Address];

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 24 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtTodControlPacket packet, out WireError error)
    {
        bool isRead = ArtNetHeader.Is(data, ArtOpCode.TodControl, Length);
        packet = isRead ? new ArtTodControlPacket(data) : default;
        error = isRead ? default : ArtNetHeader.Refuse(data, ArtOpCode.TodControl, Length);
        return isRead;
    }
}
