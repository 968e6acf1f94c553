using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtPoll packet (Art-Net 4, document 1.4dn, page 29), a view over the payload of a UDP datagram. Older senders stop
/// after octet 13: members beyond it are 0 then.
/// </summary>
public readonly ref struct ArtPollPacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int Flags = 12;
        public const int DiagPriority = 13;
        public const int TargetPortAddressTop = 14;
        public const int TargetPortAddressBottom = 16;
        public const int EstaMan = 18;
        public const int Oem = 20;
        public const int End = 22;
    }

    /// <summary>Fewest octets accepted.</summary>
    public const int MinimumLength = Field.TargetPortAddressTop;

    /// <summary>Octets of the packet as the document has it now.</summary>
    public const int FullLength = Field.End;

    private readonly ReadOnlySpan<byte> _data;

    private ArtPollPacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>Flags octet.</summary>
    public byte Flags => _data[Field.Flags];

    /// <summary>Only nodes with a Port-Address in the target range are to answer.</summary>
    public bool IsTargeted => (Flags & 0x20) != 0;

    /// <summary>Diagnostics are to be unicast.</summary>
    public bool DiagnosticsUnicast => (Flags & 0x08) != 0;

    /// <summary>Diagnostics are to be sent.</summary>
    public bool SendDiagnostics => (Flags & 0x04) != 0;

    /// <summary>Nodes are to send an ArtPollReply whenever something changes.</summary>
    public bool ReplyOnChange => (Flags & 0x02) != 0;

    /// <summary>Lowest priority of diagnostics to be sent.</summary>
    public byte DiagPriority => _data[Field.DiagPriority];

    /// <summary>Highest Port-Address of the target range.</summary>
    public ushort TargetPortAddressTop => WordAt(Field.TargetPortAddressTop);

    /// <summary>Lowest Port-Address of the target range.</summary>
    public ushort TargetPortAddressBottom => WordAt(Field.TargetPortAddressBottom);

    /// <summary>ESTA manufacturer code of the controller.</summary>
    public ushort EstaMan => WordAt(Field.EstaMan);

    /// <summary>Oem code of the controller.</summary>
    public ushort Oem => WordAt(Field.Oem);

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 14 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtPollPacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.Poll, MinimumLength))
        {
            packet = new ArtPollPacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.Poll, MinimumLength);
        return false;
    }

    private ushort WordAt(int offset) =>
        _data.Length >= offset + sizeof(ushort) ? BinaryPrimitives.ReadUInt16BigEndian(_data[offset..]) : (ushort)0;
}
