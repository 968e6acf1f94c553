using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtNzs packet: slots under a START code other than 0 (Art-Net 4, document 1.4dn, page 80); a view over the payload
/// of a UDP datagram. ArtVlc is one of them.
/// </summary>
public readonly ref struct ArtNzsPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int Sequence = 12;
        public const int StartCode = 13;
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

    private ArtNzsPacket(ReadOnlySpan<byte> data, int present)
    {
        _data = data;
        OctetsPresent = present;
    }

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>1 to 255, then 1 again; 0 = the sender does not count.</summary>
    public byte Sequence => _data[Field.Sequence];

    /// <summary>START code as sent.</summary>
    public byte StartCode => _data[Field.StartCode];

    /// <summary>Whether the START code may travel here: not 0 and not that of RDM, CCh.</summary>
    public bool IsStartCodeAllowed => StartCode is not (Dmx512.StartCode.Null or Dmx512.StartCode.Rdm);

    /// <summary>Sub-Net (high nibble) and Universe (low nibble).</summary>
    public byte SubUni => _data[Field.SubUni];

    /// <summary>Net octet as sent; 0 to 127 allowed.</summary>
    public byte Net => _data[Field.Net];

    /// <summary>Bit 7 of Net is set, which no Port-Address has (page 20). It is left out of <see cref="PortAddress"/>.</summary>
    public bool IsNetBit7Set => (Net & 0x80) != 0;

    /// <summary>Port-Address, 0 to 32767 (page 20).</summary>
    public int PortAddress => ((Net & 0x7F) << 8) | SubUni;

    /// <summary>Length field as sent: how many slots follow; 1 to 512 allowed, odd ones too (page 80).</summary>
    public ushort Length => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Length..]);

    /// <summary>Whether Length is 1 to 512 (page 80).</summary>
    public bool IsLengthAllowed => Length is > 0 and <= MaximumSlots;

    /// <summary>Octets of data present, whatever Length says.</summary>
    public int OctetsPresent { get; }

    /// <summary>How many of the octets that Length states are not there.</summary>
    public int SlotsMissing => Math.Max(0, Length - OctetsPresent);

    /// <summary>Slot 1 first; as many as are stated, present and allowed, 0 to 512.</summary>
    public ReadOnlySpan<byte> Slots => _data[Field.Data..];

    /// <summary>Whether it is ArtVlc: START code 91h and data that begin 41h 4Ch 45h.</summary>
    public bool IsVlc => StartCode == Dmx512.StartCode.ManufacturerId && Slots.StartsWith("ALE"u8);

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 18 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtNzsPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.Nzs, HeaderLength))
        {
            int present = data.Length - HeaderLength;
            int length = Math.Min(MaximumSlots, (int)BinaryPrimitives.ReadUInt16BigEndian(data[Field.Length..]));
            packet = new ArtNzsPacket(length < present ? data[..(HeaderLength + length)] : data, present);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.Nzs, HeaderLength);
        return false;
    }
}
