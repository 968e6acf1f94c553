using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>
/// ArtTimeCode packet: time code (Art-Net 4, document 1.4dn, page 64), a view over the payload of a UDP datagram.
/// </summary>
public readonly ref struct ArtTimeCodePacket
{
    private static class Field
    {
        public const int ProtVer = 10;
        public const int StreamId = 13;
        public const int Frames = 14;
        public const int Seconds = 15;
        public const int Minutes = 16;
        public const int Hours = 17;
        public const int Type = 18;
        public const int End = 19;
    }

    /// <summary>Octets of the packet.</summary>
    public const int Length = Field.End;

    private readonly ReadOnlySpan<byte> _data;

    private ArtTimeCodePacket(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>Protocol version; 14 in Art-Net 4.</summary>
    public ushort ProtVer => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>Which time code stream; 0 = master.</summary>
    public byte StreamId => _data[Field.StreamId];

    /// <summary>Frames, 0 to 29 by type.</summary>
    public byte Frames => _data[Field.Frames];

    /// <summary>Seconds, 0 to 59.</summary>
    public byte Seconds => _data[Field.Seconds];

    /// <summary>Minutes, 0 to 59.</summary>
    public byte Minutes => _data[Field.Minutes];

    /// <summary>Hours, 0 to 23.</summary>
    public byte Hours => _data[Field.Hours];

    /// <summary>0 film (24 frames a second), 1 EBU (25), 2 drop frame (29.97), 3 SMPTE (30).</summary>
    public byte Type => _data[Field.Type];

    /// <summary>Whether every figure is in its range.</summary>
    public bool IsInRange =>
        Type <= 3 && Frames < FramesPerSecond && Seconds < 60 && Minutes < 60 && Hours < 24;

    /// <summary>Frames a second, rounded up; 30 for an unknown type.</summary>
    public int FramesPerSecond => Type switch { 0 => 24, 1 => 25, _ => 30 };

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">NotThisProtocol: other ID or OpCode. Truncated: fewer than 19 octets.</param>
    /// <returns>Whether it can be read.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtTimeCodePacket packet, out WireError error)
    {
        if (ArtNetHeader.Is(data, ArtOpCode.TimeCode, Length))
        {
            packet = new ArtTimeCodePacket(data);
            error = default;
            return true;
        }

        packet = default;
        error = ArtNetHeader.Refuse(data, ArtOpCode.TimeCode, Length);
        return false;
    }
}
