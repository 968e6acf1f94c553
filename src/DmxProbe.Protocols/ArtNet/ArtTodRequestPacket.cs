using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtTodRequest packet: asks gateways for their tables of RDM devices (Art-Net 4, document 1.4dn, page 96); a view over the
/// payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtTodRequestPacket
{
    private static class Field
    {
        public const int Net = 21;
        public const int Command = 22;
        public const int AddCount = 23;
        public const int Address = 24;
    }

    /// <summary>Octets before the list of addresses.</summary>
    public const int HeaderLength = Field.Address;

    /// <summary>Most Port-Addresses asked for in a packet (page 96).</summary>
    public const int MostAddresses = 32;

    private readonly ReadOnlySpan<byte> _data;

    private ArtTodRequestPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Command; 0 = the whole table.</summary>
    public byte Command => _data[Field.Command];

    /// <summary>How many Port-Addresses are asked for, as stated; at most 32 allowed.</summary>
    public byte AddCount => _data[Field.AddCount];

    /// <summary>Port-Addresses that are stated, allowed and present.</summary>
    public int AddressCount => Math.Min(Math.Min((int)AddCount, MostAddresses), _data.Length - Field.Address);

    /// <summary>One Port-Address, 0 to 32767.</summary>
    /// <param name="index">0 to <see cref="AddressCount"/> - 1.</param>
    public int PortAddress(int index) => ((_data[Field.Net] & 0x7F) << 8) | _data[Field.Address + index];

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 24 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtTodRequestPacket packet, out WireError error)
    {
        bool isRead = ArtNetHeader.Is(data, ArtOpCode.TodRequest, HeaderLength);
        packet = isRead ? new ArtTodRequestPacket(data) : default;
        error = isRead ? default : ArtNetHeader.Refuse(data, ArtOpCode.TodRequest, HeaderLength);
        return isRead;
    }
}
