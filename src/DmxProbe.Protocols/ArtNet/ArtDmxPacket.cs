using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtDmx packet (Art-Net 4, document 1.4dn, page 74), a view over the payload of a UDP datagram. Only what makes it
/// unreadable is refused; which rules it breaks is asked of the view.
/// </summary>
public readonly ref struct ArtDmxPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int Sequence = 12;
        public const int Physical = 13;
        public const int SubUni = 14;
        public const int Net = 15;
        public const int Length = 16;
        public const int Data = 18;
    }

    /// <summary>Octets of the packet before slot 1; the shortest packet.</summary>
    public const int HeaderLength = Field.Data;

    /// <summary>Most slots of a packet.</summary>
    public const int MaximumSlots = 512;

    private readonly ReadOnlySpan<byte> _data;
    private readonly int _present;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private ArtDmxPacket(ReadOnlySpan<byte> data, int present)
    {
        _data = data;
        _present = present;
    }

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>1 to 255, then 1 again; 0 = the sender does not count.</summary>
    public byte Sequence => _data[Field.Sequence];

    /// <summary>Input port the levels came from; two values from one address are two sources to a merge (page 76).</summary>
    public byte Physical => _data[Field.Physical];

    /// <summary>Sub-Net (high nibble) and Universe (low nibble).</summary>
    public byte SubUni => _data[Field.SubUni];

    /// <summary>Net octet as sent; 0 to 127 allowed.</summary>
    public byte Net => _data[Field.Net];

    /// <summary>Bit 7 of Net is set, which no Port-Address has (page 20). It is left out of <see cref="PortAddress"/>.</summary>
    public bool IsNetBit7Set => (Net & 0x80) != 0;

    /// <summary>Port-Address, 0 to 32767: Net, Sub-Net, Universe (page 20).</summary>
    public int PortAddress => ((Net & 0x7F) << 8) | SubUni;

    /// <summary>Length field as sent: how many slots follow.</summary>
    public ushort Length => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Length..]);

    /// <summary>Length is odd; it should be even (page 74).</summary>
    public bool IsLengthOdd => (Length & 1) != 0;

    /// <summary>Length is over 512.</summary>
    public bool IsLengthOver512 => Length > MaximumSlots;

    /// <summary>Length is below 2, the least allowed (page 74).</summary>
    public bool IsLengthUnder2 => Length < 2;

    /// <summary>Octets of data present, whatever Length says.</summary>
    public int OctetsPresent => _present;

    /// <summary>How many of the octets that Length states are not there: cut by the snap length or never sent.</summary>
    public int SlotsMissing => Math.Max(0, Length - _present);

    /// <summary>Slot 1 first; as many as are stated, present and allowed, 0 to 512.</summary>
    public ReadOnlySpan<byte> Slots => _data[Field.Data..];

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 18 octets.</param>
    /// <returns>Whether it can be read.</returns>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtDmxPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.Dmx, HeaderLength))
        {
            int present = data.Length - HeaderLength;
            int length = Math.Min(MaximumSlots, (int)BinaryPrimitives.ReadUInt16BigEndian(data[Field.Length..]));
            packet = new ArtDmxPacket(length < present ? data[..(HeaderLength + length)] : data, present);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.Dmx, HeaderLength);
        return false;
    }
}
