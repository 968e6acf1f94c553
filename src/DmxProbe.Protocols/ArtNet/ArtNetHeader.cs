using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.ArtNet;

/// <summary>What every Art-Net packet begins with (Art-Net 4, document 1.4dn), a view over the payload of a UDP datagram.</summary>
public readonly ref struct ArtNetHeader
{
    private static class Field
    {
        public const int Id = 0;
        public const int OpCode = 8;
        public const int ProtVer = 10;
        public const int End = 12;
    }

    /// <summary>UDP port of source and destination.</summary>
    public const ushort Port = 6454;

    /// <summary>Octets of ID and OpCode.</summary>
    public const int Length = Field.ProtVer;

    /// <summary>Protocol version of Art-Net 4; controllers ignore nodes with a lower one.</summary>
    public const int CurrentProtVer = 14;

    private const ulong Id = 0x4172742D4E657400; // "Art-Net", zero

    private readonly ReadOnlySpan<byte> _data;

    private ArtNetHeader(ReadOnlySpan<byte> data) => _data = data;

    /// <summary>What the packet is; any number may come.</summary>
    public ArtOpCode OpCode => (ArtOpCode)BinaryPrimitives.ReadUInt16LittleEndian(_data[Field.OpCode..]);

    /// <summary>Protocol version, or -1: ArtPollReply has none, and the packet may end before it.</summary>
    public int ProtVer => OpCode == ArtOpCode.PollReply || _data.Length < Field.End
        ? -1
        : BinaryPrimitives.ReadUInt16BigEndian(_data[Field.ProtVer..]);

    /// <summary>Makes the view.</summary>
    /// <param name="data">The UDP payload, as far as captured.</param>
    /// <param name="header">The view; default when refused.</param>
    /// <param name="error">Why not.</param>
    /// <returns>Whether the octets begin as Art-Net does.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out ArtNetHeader header, out WireError error)
    {
        if (data.Length >= Length && BinaryPrimitives.ReadUInt64BigEndian(data) == Id)
        {
            header = new ArtNetHeader(data);
            error = default;
            return true;
        }

        header = default;
        error = Refuse(data);
        return false;
    }

    /// <summary>Whether the octets hold a packet of this OpCode of at least this length.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static bool Is(ReadOnlySpan<byte> data, ArtOpCode opCode, int minimumLength) =>
        data.Length >= minimumLength
        && BinaryPrimitives.ReadUInt64BigEndian(data) == Id
        && BinaryPrimitives.ReadUInt16LittleEndian(data[Field.OpCode..]) == (ushort)opCode;

    /// <summary>Why <see cref="Is"/> said no. Not for the hot path.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    internal static WireError Refuse(ReadOnlySpan<byte> data, ArtOpCode opCode, int minimumLength)
    {
        if (!TryParse(data, out ArtNetHeader header, out WireError error))
        {
            return error.Kind == WireErrorKind.Truncated ? WireError.Truncated(minimumLength, data.Length) : error;
        }

        return header.OpCode != opCode
            ? new(WireErrorKind.NotThisProtocol, Field.OpCode, (long)opCode, (long)header.OpCode)
            : WireError.Truncated(minimumLength, data.Length);
    }

    private static WireError Refuse(ReadOnlySpan<byte> data)
    {
        ReadOnlySpan<byte> id = "Art-Net\0"u8;
        for (int i = 0; i < id.Length && i < data.Length; i++)
        {
            if (data[i] != id[i])
            {
                return new(WireErrorKind.NotThisProtocol, Field.Id + i, id[i], data[i]);
            }
        }

        return WireError.Truncated(Length, data.Length);
    }
}
