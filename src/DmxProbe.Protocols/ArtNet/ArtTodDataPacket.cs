using System.Buffers.Binary;
using DmxProbe.Protocols.Rdm;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtTodData packet: a part of the table of RDM devices of one port (Art-Net 4, document 1.4dn, page 98), a view over the
/// payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtTodDataPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
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

    /// <summary>Fewest octets accepted.</summary>
    public const int MinimumLength = Field.Uids;

    /// <summary>Most UIDs of one packet.</summary>
    public const int MaximumUids = 200;

    private readonly ReadOnlySpan<byte> _data;

    private ArtTodDataPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>RDM version; 1 = ANSI E1.20.</summary>
    public byte RdmVer => _data[Field.RdmVer];

    /// <summary>Port of the device, from 1.</summary>
    public byte Port => _data[Field.Port];

    /// <summary>Which part of a device with more than four ports it is; 0 or 1 = root device.</summary>
    public byte BindIndex => _data[Field.BindIndex];

    /// <summary>Net octet as sent.</summary>
    public byte Net => _data[Field.Net];

    /// <summary>0 = part of the whole table, FFh = the table is not there (NAK).</summary>
    public byte CommandResponse => _data[Field.CommandResponse];

    /// <summary>Whether no table is to be had: CommandResponse FFh.</summary>
    public bool IsNak => CommandResponse == 0xFF;

    /// <summary>Port-Address, 0 to 32767.</summary>
    public int PortAddress => ((Net & 0x7F) << 8) | _data[Field.Address];

    /// <summary>Devices in the whole table.</summary>
    public ushort UidTotal => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.UidTotal..]);

    /// <summary>Number of this part, from 0.</summary>
    public byte BlockCount => _data[Field.BlockCount];

    /// <summary>UIDs stated in this part; at most 200.</summary>
    public byte UidCount => _data[Field.UidCount];

    /// <summary>UIDs this part holds: as many as are stated, allowed and present.</summary>
    public int Count => Math.Min(Math.Min((int)UidCount, MaximumUids), (_data.Length - Field.Uids) / RdmUid.Size);

    /// <summary>A UID of this part.</summary>
    /// <param name="index">From 0 to below <see cref="Count"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">The index is outside the list.</exception>
    public RdmUid Uid(int index)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(index, Count);
        return RdmUid.Read(_data[(Field.Uids + (index * RdmUid.Size))..]);
    }

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 28 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtTodDataPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.TodData, MinimumLength))
        {
            packet = new ArtTodDataPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.TodData, MinimumLength);
        return false;
    }
}
