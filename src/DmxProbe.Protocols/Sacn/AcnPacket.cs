using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Sacn;

/// <summary>What the root layer of every sACN packet has in common (E1.31-2018 section 5).</summary>
internal static class AcnPacket
{
    public const int PreambleSizeAt = 0;
    public const int PostambleSizeAt = 2;
    public const int IdentifierAt = 4;
    public const int IdentifierEndAt = 12;
    public const int RootFlagsAndLengthAt = 16;
    public const int RootVectorAt = 18;
    public const int CidAt = 22;
    public const int FramingFlagsAndLengthAt = 38;
    public const int FramingVectorAt = 40;
    public const int HeaderLength = 44;

    public const int PreambleSize = 0x0010;
    public const int PostambleSize = 0x0000;

    private const ulong IdentifierStart = 0x4153432D45312E31; // "ASC-E1.1"
    private const uint IdentifierEnd = 0x37000000; // "7", zeros
    private const int FlagsShift = 12;
    private const int Flags = 0x7;
    private const int LengthMask = 0x0FFF;

    /// <summary>Whether the octets begin with the ACN packet identifier (section 5.3) and hold both vectors.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static bool IsAcn(ReadOnlySpan<byte> data) =>
        data.Length >= HeaderLength
        && BinaryPrimitives.ReadUInt64BigEndian(data[IdentifierAt..]) == IdentifierStart
        && BinaryPrimitives.ReadUInt32BigEndian(data[IdentifierEndAt..]) == IdentifierEnd;

    /// <summary>Whether the octets begin with the identifier and have these vectors.</summary>
    public static bool Is(ReadOnlySpan<byte> data, uint rootVector, uint framingVector) =>
        IsAcn(data)
        && BinaryPrimitives.ReadUInt32BigEndian(data[RootVectorAt..]) == rootVector
        && BinaryPrimitives.ReadUInt32BigEndian(data[FramingVectorAt..]) == framingVector;

    /// <summary>Whether preamble and post-amble sizes are the only ones allowed (sections 5.1, 5.2).</summary>
    public static bool IsPreambleValid(ReadOnlySpan<byte> data) =>
        BinaryPrimitives.ReadUInt16BigEndian(data[PreambleSizeAt..]) == PreambleSize
        && BinaryPrimitives.ReadUInt16BigEndian(data[PostambleSizeAt..]) == PostambleSize;

    /// <summary>Why the octets are not a packet with these vectors, or of this length. Not for the hot path.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    public static WireError Refuse(ReadOnlySpan<byte> data, uint rootVector, uint framingVector, int minimumLength)
    {
        WireError error = RefuseIdentifier(data);
        if (error.Kind != WireErrorKind.None)
        {
            return error;
        }

        uint root = BinaryPrimitives.ReadUInt32BigEndian(data[RootVectorAt..]);
        if (root != rootVector)
        {
            return new(WireErrorKind.NotThisProtocol, RootVectorAt, rootVector, root);
        }

        uint framing = BinaryPrimitives.ReadUInt32BigEndian(data[FramingVectorAt..]);
        return framing != framingVector
            ? new(WireErrorKind.NotThisProtocol, FramingVectorAt, framingVector, framing)
            : WireError.Truncated(minimumLength, data.Length);
    }

    /// <summary>Why the octets do not begin with an ACN root layer; none if they do.</summary>
    public static WireError RefuseIdentifier(ReadOnlySpan<byte> data)
    {
        ReadOnlySpan<byte> identifier = "ASC-E1.17\0\0\0"u8;
        for (int i = 0; i < identifier.Length && IdentifierAt + i < data.Length; i++)
        {
            if (data[IdentifierAt + i] != identifier[i])
            {
                return new(WireErrorKind.NotThisProtocol, IdentifierAt + i, identifier[i], data[IdentifierAt + i]);
            }
        }

        return data.Length < HeaderLength ? WireError.Truncated(HeaderLength, data.Length) : default;
    }

    /// <summary>Whether a flags and length field holds flags 7 and counts from its own first octet to the end (sections 5.4, 6.1, 7.1, 8.1).</summary>
    public static bool Agrees(ReadOnlySpan<byte> data, int fieldAt, int payloadLength)
    {
        int field = BinaryPrimitives.ReadUInt16BigEndian(data[fieldAt..]);
        return field >> FlagsShift == Flags && (field & LengthMask) == payloadLength - fieldAt;
    }
}
