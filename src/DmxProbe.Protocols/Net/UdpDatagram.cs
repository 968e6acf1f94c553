using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Net;

/// <summary>UDP header and payload (RFC 768), a view over the payload of an IP packet.</summary>
public readonly ref struct UdpDatagram
{
    private static class Field
    {
        public const int SourcePort = 0;
        public const int DestinationPort = 2;
        public const int Length = 4;
        public const int Checksum = 6;
        public const int Payload = 8;
    }

    /// <summary>Octets of the header.</summary>
    public const int HeaderLength = Field.Payload;

    private readonly ReadOnlySpan<byte> _data;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private UdpDatagram(ReadOnlySpan<byte> data, bool isCut)
    {
        _data = data;
        IsCut = isCut;
    }

    /// <summary>Fewer octets are present than <see cref="Length"/> says.</summary>
    public bool IsCut { get; }

    /// <summary>Port of the sender.</summary>
    public ushort SourcePort => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.SourcePort..]);

    /// <summary>Port of the receiver.</summary>
    public ushort DestinationPort => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.DestinationPort..]);

    /// <summary>Stated length, header included; 0 where unstated (jumbogram, offload): then the payload is all there is.</summary>
    public ushort Length => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Length..]);

    /// <summary>Checksum as sent; 0 = none. Not verified: a capture at the sender often holds the unfinished one.</summary>
    public ushort Checksum => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Checksum..]);

    /// <summary>The payload octets that are both stated and present.</summary>
    public ReadOnlySpan<byte> Payload => _data[Field.Payload..];

    /// <summary>Makes the view.</summary>
    /// <param name="data">The payload of the IP packet, as far as captured.</param>
    /// <param name="datagram">The view; default when refused.</param>
    /// <param name="error">Why not.</param>
    /// <returns>Whether the header is readable.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out UdpDatagram datagram, out WireError error)
    {
        bool isReadable = TryView(data, out datagram);
        error = isReadable ? default
            : data.Length < Field.Payload ? WireError.Truncated(Field.Payload, data.Length)
            : new WireError(
                WireErrorKind.Invalid,
                Field.Length,
                Field.Payload,
                BinaryPrimitives.ReadUInt16BigEndian(data[Field.Length..]));
        return isReadable;
    }

    /// <summary>As <see cref="TryParse"/>, without finding out why not.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static bool TryView(ReadOnlySpan<byte> data, out UdpDatagram datagram)
    {
        if (data.Length >= Field.Payload)
        {
            int length = BinaryPrimitives.ReadUInt16BigEndian(data[Field.Length..]);
            if (length is >= Field.Payload or 0)
            {
                bool isCut = length > data.Length;
                datagram = new UdpDatagram(isCut || length == 0 ? data : data[..length], isCut);
                return true;
            }
        }

        datagram = default;
        return false;
    }
}
