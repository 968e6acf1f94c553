using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Net;

/// <summary>IPv4 packet (RFC 791), a view over its octets. Bytes behind the stated length (Ethernet padding) are left out.</summary>
public readonly ref struct Ipv4Packet
{
    private static class Field
    {
        public const int VersionAndHeaderLength = 0;
        public const int TotalLength = 2;
        public const int Identification = 4;
        public const int FlagsAndFragmentOffset = 6;
        public const int TimeToLive = 8;
        public const int Protocol = 9;
        public const int Source = 12;
        public const int Destination = 16;
        public const int Options = 20;
    }

    private const int MoreFragmentsFlag = 0x2000;
    private const int FragmentOffsetMask = 0x1FFF;
    private const int FragmentUnit = 8;

    private readonly ReadOnlySpan<byte> _data;

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Ipv4Packet(ReadOnlySpan<byte> data, int headerLength, bool isCut)
    {
        _data = data;
        HeaderLength = headerLength;
        IsCut = isCut;
    }

    /// <summary>Octets of the header with its options, 20 to 60.</summary>
    public int HeaderLength { get; }

    /// <summary>Fewer octets are present than <see cref="TotalLength"/> says.</summary>
    public bool IsCut { get; }

    /// <summary>Stated length, header included; 0 where the adapter was to fill it in (segmentation offload).</summary>
    public ushort TotalLength => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.TotalLength..]);

    /// <summary>Shared by all fragments of one datagram.</summary>
    public ushort Identification => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.Identification..]);

    /// <summary>Whether it is a part of a larger datagram.</summary>
    public bool IsFragment => (FlagsAndOffset & (MoreFragmentsFlag | FragmentOffsetMask)) != 0;

    /// <summary>Whether further fragments follow.</summary>
    public bool MoreFragments => (FlagsAndOffset & MoreFragmentsFlag) != 0;

    /// <summary>Where in the datagram this part begins, in octets.</summary>
    public int FragmentOffset => (FlagsAndOffset & FragmentOffsetMask) * FragmentUnit;

    /// <summary>Routers it may still cross.</summary>
    public byte TimeToLive => _data[Field.TimeToLive];

    /// <summary>What the payload is, see <see cref="IpProtocol"/>.</summary>
    public byte Protocol => _data[Field.Protocol];

    /// <summary>Sender, first written octet most significant.</summary>
    public uint Source => BinaryPrimitives.ReadUInt32BigEndian(_data[Field.Source..]);

    /// <summary>Receiver or group, first written octet most significant.</summary>
    public uint Destination => BinaryPrimitives.ReadUInt32BigEndian(_data[Field.Destination..]);

    /// <summary>The payload octets that are both stated and present.</summary>
    public ReadOnlySpan<byte> Payload => _data[HeaderLength..];

    private int FlagsAndOffset => BinaryPrimitives.ReadUInt16BigEndian(_data[Field.FlagsAndFragmentOffset..]);

    /// <summary>Makes the view.</summary>
    /// <param name="data">From the first octet of the header to the end of what was captured.</param>
    /// <param name="packet">The view; default when refused.</param>
    /// <param name="error">Why not.</param>
    /// <returns>Whether the header is readable.</returns>
    public static bool TryParse(ReadOnlySpan<byte> data, out Ipv4Packet packet, out WireError error)
    {
        bool isReadable = TryView(data, out packet);
        error = isReadable ? default : Refuse(data);
        return isReadable;
    }

    /// <summary>As <see cref="TryParse"/>, without finding out why not.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static bool TryView(ReadOnlySpan<byte> data, out Ipv4Packet packet)
    {
        if (data.Length >= Field.Options)
        {
            int first = data[Field.VersionAndHeaderLength];
            int headerLength = (first & 0x0F) * sizeof(uint);
            int totalLength = BinaryPrimitives.ReadUInt16BigEndian(data[Field.TotalLength..]);
            if (first >> 4 == 4 && headerLength >= Field.Options && headerLength <= data.Length
                && (totalLength >= headerLength || totalLength == 0))
            {
                bool isCut = totalLength > data.Length;
                packet = new Ipv4Packet(isCut || totalLength == 0 ? data : data[..totalLength], headerLength, isCut);
                return true;
            }
        }

        packet = default;
        return false;
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static WireError Refuse(ReadOnlySpan<byte> data)
    {
        if (data.IsEmpty)
        {
            return WireError.Truncated(Field.Options, 0);
        }

        int first = data[Field.VersionAndHeaderLength];
        if (first >> 4 != 4)
        {
            return new(WireErrorKind.NotThisProtocol, Field.VersionAndHeaderLength, 4, first >> 4);
        }

        int headerLength = (first & 0x0F) * sizeof(uint);
        if (headerLength < Field.Options)
        {
            return new(WireErrorKind.Invalid, Field.VersionAndHeaderLength, Field.Options, headerLength);
        }

        return data.Length < headerLength
            ? WireError.Truncated(headerLength, data.Length)
            : new(
                WireErrorKind.Invalid,
                Field.TotalLength,
                headerLength,
                BinaryPrimitives.ReadUInt16BigEndian(data[Field.TotalLength..]));
    }
}
