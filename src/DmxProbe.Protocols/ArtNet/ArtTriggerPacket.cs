using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtTrigger packet: fires something in a device (Art-Net 4, document 1.4dn, page 68), a view over the
/// payload of a UDP datagram. Senders shorten it: data may be missing.
/// </summary>
public readonly ref struct ArtTriggerPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int Oem = 14;
        public const int Key = 16;
        public const int SubKey = 17;
        public const int Data = 18;
        public const int End = 530;
    }

    /// <summary>Fewest octets accepted.</summary>
    public const int MinimumLength = Field.Data;

    /// <summary>Octets of the packet as the document has it.</summary>
    public const int FullLength = Field.End;

    private readonly ReadOnlySpan<byte> _data;

    private ArtTriggerPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>Oem code the trigger is for; FFFFh = every device.</summary>
    public ushort Oem => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Oem..]);

    /// <summary>Kind: 0 ASCII, 1 macro, 2 soft key, 3 show; other meanings where Oem is not FFFFh.</summary>
    public byte Key => _data[Field.Key];

    /// <summary>Which one.</summary>
    public byte SubKey => _data[Field.SubKey];

    /// <summary>Payload octets, 0 to 512.</summary>
    public ReadOnlySpan<byte> Data => _data[Field.Data..Math.Min(_data.Length, Field.End)];

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 18 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtTriggerPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.Trigger, MinimumLength))
        {
            packet = new ArtTriggerPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.Trigger, MinimumLength);
        return false;
    }
}
