using System.Buffers.Binary;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtTodData packet: UIDs of the RDM devices that an output gateway knows (Art-Net 4, document 1.4dn, page 98); a view over
/// the payload of a UDP datagram. A long table comes in blocks.
/// </summary>
public readonly ref struct ArtTodDataPacket
{
    private static class Field
    {
        public const int RdmVer = 12;
        public const int Port = 13;
        public const int BindIndex = 20;
        public const int Net = 21;
        public const int CommandResponse = 22;
        public const int Address = 23;
        public const int UidTotal = 24;
        public const int BlockCount = 26;
        public const int UidCount = 27;
        public const int Uids = 28;
    }

    /// <summary>Octets before the UIDs.</summary>
    public const int HeaderLength = Field.Uids;

    /// <summary>Most UIDs of a packet (page 98).</summary>
    public const int MostUids = 200;

    private const byte NotAvailable = 0xFF;
    private readonly ReadOnlySpan<byte> _data;

    private ArtTodDataPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>RDM version as sent.</summary>
    public byte RdmVer => _data[Field.RdmVer];

    /// <summary>Physical port of the gateway, 1 to 4.</summary>
    public byte Port => _data[Field.Port];

    /// <summary>Which part of the gateway; 0 or 1 = root.</summary>
    public byte BindIndex => _data[Field.BindIndex];

    /// <summary>Port-Address, 0 to 32767 (page 20).</summary>
    public int PortAddress => ((_data[Field.Net] & 0x7F) << 8) | _data[Field.Address];

    /// <summary>True where the gateway says that its table is not there yet (FFh): no UIDs follow.</summary>
    public bool IsNotAvailable => _data[Field.CommandResponse] == NotAvailable;

    /// <summary>UIDs in the whole table, over all blocks.</summary>
    public int UidTotal => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.UidTotal..]);

    /// <summary>Number of this block, from 0.</summary>
    public byte Block => _data[Field.BlockCount];

    /// <summary>UIDs in this packet as stated; at most 200 allowed.</summary>
    public byte UidCount => _data[Field.UidCount];

    /// <summary>UIDs that are stated and present.</summary>
    public int UidsPresent => Math.Min(UidCount, (_data.Length - Field.Uids) / RdmUid.Size);

    /// <summary>One UID.</summary>
    /// <param name="index">0 to <see cref="UidsPresent"/> - 1.</param>
    public RdmUid Uid(int index) => RdmUid.Read(_data[(Field.Uids + (RdmUid.Size * index))..]);

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 28 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtTodDataPacket packet, out WireError error)
    {
        bool isRead = ArtNetHeader.Is(data, ArtOpCode.TodData, HeaderLength);
        packet = isRead ? new ArtTodDataPacket(data) : default;
        error = isRead ? default : ArtNetHeader.Refuse(data, ArtOpCode.TodData, HeaderLength);
        return isRead;
    }
}
