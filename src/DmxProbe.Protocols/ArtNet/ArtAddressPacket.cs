using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtAddress packet: names, addresses and merge mode programmed from afar (Art-Net 4, document 1.4dn, pages 50 to 57), a view over the
/// payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtAddressPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int NetSwitch = 12;
        public const int BindIndex = 13;
        public const int PortName = 14;
        public const int LongName = 32;
        public const int SwIn = 96;
        public const int SwOut = 100;
        public const int SubSwitch = 104;
        public const int AcnPriority = 105;
        public const int Command = 106;
        public const int End = 107;
    }

    /// <summary>Octets of the packet.</summary>
    public const int Length = Field.End;

    private const byte WriteBit = 0x80;

    private readonly ReadOnlySpan<byte> _data;

    private ArtAddressPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>Bits 14 to 8 of the Port-Address in bits 6 to 0, taken over only where bit 7 is set.</summary>
    public byte NetSwitch => _data[Field.NetSwitch];

    /// <summary>Whether Net is to be changed: bit 7 of NetSwitch.</summary>
    public bool WritesNet => (NetSwitch & WriteBit) != 0;

    /// <summary>Which part of a device with more than four ports is meant; 0 or 1 = root device.</summary>
    public byte BindIndex => _data[Field.BindIndex];

    /// <summary>New short name up to a zero octet, empty for no change; escape before showing.</summary>
    public ReadOnlySpan<byte> PortName => TextField.UpToZero(_data[Field.PortName..Field.LongName]);

    /// <summary>New long name up to a zero octet, empty for no change; escape before showing.</summary>
    public ReadOnlySpan<byte> LongName => TextField.UpToZero(_data[Field.LongName..Field.SwIn]);

    /// <summary>Four octets, one an input port: bit 7 = write, bits 3 to 0 of the Port-Address.</summary>
    public ReadOnlySpan<byte> SwIn => _data[Field.SwIn..Field.SwOut];

    /// <summary>Four octets, one an output port: bit 7 = write, bits 3 to 0 of the Port-Address.</summary>
    public ReadOnlySpan<byte> SwOut => _data[Field.SwOut..Field.SubSwitch];

    /// <summary>Bits 7 to 4 of the Port-Address in the low nibble, taken over only where bit 7 is set.</summary>
    public byte SubSwitch => _data[Field.SubSwitch];

    /// <summary>Whether Sub-Net is to be changed: bit 7 of SubSwitch.</summary>
    public bool WritesSub => (SubSwitch & WriteBit) != 0;

    /// <summary>New sACN priority, 0 to 200; 255 = no change.</summary>
    public byte AcnPriority => _data[Field.AcnPriority];

    /// <summary>What else to do, see <see cref="ArtAddressCommand"/>.</summary>
    public byte Command => _data[Field.Command];

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 107 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtAddressPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.Address, Length))
        {
            packet = new ArtAddressPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.Address, Length);
        return false;
    }
}
