using System.Buffers.Binary;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Net;

/// <summary>
/// IPv6 packet (RFC 8200) with its extension headers skipped, a view over its octets. Bytes behind the stated length
/// (Ethernet padding) are left out.
/// </summary>
public readonly ref struct Ipv6Packet
{
    private static class Field
    {
        public const int Version = 0;
        public const int PayloadLength = 4;
        public const int NextHeader = 6;
        public const int HopLimit = 7;
        public const int Source = 8;
        public const int Destination = 24;
        public const int Extensions = 40;
        public const int ExtensionLength = 1;
        public const int FragmentOffset = 2;
        public const int FragmentIdentification = 4;
    }

    /// <summary>More extension headers than this in one packet are refused: no lighting packet has two.</summary>
    public const int MaximumExtensionHeaders = 8;

    /// <summary>Octets of the header without extension headers.</summary>
    public const int FixedHeaderLength = Field.Extensions;

    private const int AddressLength = 16;
    private const int ExtensionUnit = 8;
    private const int FragmentOffsetMask = 0xFFF8;

    private readonly ReadOnlySpan<byte> _data;
    private readonly int _payloadAt;
    private readonly int _fragmentAt;

    private Ipv6Packet(ReadOnlySpan<byte> data, byte protocol, int payloadAt, int fragmentAt, bool isCut)
    {
        _data = data;
        Protocol = protocol;
        _payloadAt = payloadAt;
        _fragmentAt = fragmentAt;
        IsCut = isCut;
    }

    /// <summary>What the payload is behind all extension headers, see <see cref="IpProtocol"/>.</summary>
    public byte Protocol { get; }

    /// <summary>Fewer octets are present than <see cref="PayloadLength"/> says.</summary>
    public bool IsCut { get; }

    /// <summary>Stated octets behind the fixed header, extension headers included; 0 where unstated (offload, jumbogram).</summary>
    public ushort PayloadLength => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.PayloadLength..]);

    /// <summary>Routers it may still cross.</summary>
    public byte HopLimit => _data[Field.HopLimit];

    /// <summary>Sender, 16 octets.</summary>
    public ReadOnlySpan<byte> Source => _data.Slice(Field.Source, AddressLength);

    /// <summary>Receiver or group, 16 octets.</summary>
    public ReadOnlySpan<byte> Destination => _data.Slice(Field.Destination, AddressLength);

    /// <summary>Whether it is a part of a larger datagram. A fragment header on a whole datagram (RFC 6946) is not one.</summary>
    public bool IsFragment => MoreFragments || FragmentOffset != 0;

    /// <summary>Whether further fragments follow.</summary>
    public bool MoreFragments => (FragmentField & 1) != 0;

    /// <summary>Where in the datagram this part begins, in octets.</summary>
    public int FragmentOffset => FragmentField & FragmentOffsetMask;

    /// <summary>Shared by all fragments of one datagram; 0 without a fragment header.</summary>
    public uint Identification => _fragmentAt == 0
        ? 0
        : BinaryPrimitives.ReadUInt32BigEndian(_data[(_fragmentAt + Field.FragmentIdentification)..]);

    /// <summary>Where the payload begins, in octets from the fixed header's first.</summary>
    public int HeaderLength => _payloadAt;

    /// <summary>The payload octets that are both stated and present.</summary>
    public ReadOnlySpan<byte> Payload => _data[_payloadAt..];

    private int FragmentField =>
        _fragmentAt == 0 ? 0 : BinaryPrimitives.ReadUInt16BigEndian(_data[(_fragmentAt + Field.FragmentOffset)..]);

    /// <summary>Makes the view.</summary>
    /// <param name="data">From the first octet of the header to the end of what was captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">Why not.</param>
    /// <returns>Whether all headers are readable.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out Ipv6Packet packet, out WireError error)
    {
        packet = default;
        if (!data.IsEmpty && data[Field.Version] >> 4 != 6)
        {
            error = new(WireErrorKind.NotThisProtocol, Field.Version, 6, data[Field.Version] >> 4);
            return false;
        }

        if (data.Length < Field.Extensions)
        {
            error = WireError.Truncated(Field.Extensions, data.Length);
            return false;
        }

        int payloadLength = BinaryPrimitives.ReadUInt16BigEndian(data[Field.PayloadLength..]);
        bool isCut = payloadLength > data.Length - Field.Extensions;
        if (!isCut && payloadLength != 0)
        {
            data = data[..(Field.Extensions + payloadLength)];
        }

        byte next = data[Field.NextHeader];
        int at = Field.Extensions;
        int fragmentAt = 0;
        for (int count = 0; IsExtension(next); count++)
        {
            if (count == MaximumExtensionHeaders)
            {
                error = new(WireErrorKind.Invalid, at, MaximumExtensionHeaders, count + 1);
                return false;
            }

            if (data.Length - at < ExtensionUnit)
            {
                error = WireError.Truncated(at + ExtensionUnit, data.Length);
                return false;
            }

            int length = LengthOf(next, data[at + Field.ExtensionLength]);
            if (data.Length - at < length)
            {
                error = WireError.Truncated(at + length, data.Length);
                return false;
            }

            bool laterFragment = false;
            if (next == IpProtocol.Fragment)
            {
                fragmentAt = at;
                laterFragment =
                    (BinaryPrimitives.ReadUInt16BigEndian(data[(at + Field.FragmentOffset)..]) & FragmentOffsetMask) != 0;
            }

            next = data[at];
            at += length;
            if (laterFragment)
            {
                break; // what follows is the middle of a datagram, not a header
            }
        }

        packet = new Ipv6Packet(data, next, at, fragmentAt, isCut);
        error = default;
        return true;
    }

    private static bool IsExtension(byte header) => header is IpProtocol.HopByHop or IpProtocol.Routing
        or IpProtocol.Fragment or IpProtocol.Authentication or IpProtocol.DestinationOptions;

    /// <summary>Lengths count units of 8 octets beyond the first; the authentication header counts units of 4 beyond two.</summary>
    private static int LengthOf(byte header, byte lengthField) => header switch
    {
        IpProtocol.Fragment => ExtensionUnit,
        IpProtocol.Authentication => (lengthField + 2) * sizeof(uint),
        _ => (lengthField + 1) * ExtensionUnit,
    };
}
