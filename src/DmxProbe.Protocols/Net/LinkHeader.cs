using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using DmxProbe.Protocols.Records;
using DmxProbe.Protocols.Wire;

namespace DmxProbe.Protocols.Net;

/// <summary>Finds where the network layer begins behind the link header of a captured packet.</summary>
public static class LinkHeader
{
    private static class Field
    {
        public const int EthernetType = 12;
        public const int EthernetLength = 14;
        public const int SllProtocol = 14;
        public const int SllLength = 16;
        public const int Sll2Protocol = 0;
        public const int Sll2Length = 20;
        public const int FamilyLength = 4;
        public const int TagLength = 4;
        public const int TypeLength = 2;
    }

    /// <summary>Octets of an Ethernet header without tags.</summary>
    internal const int EthernetLength = Field.EthernetLength;

    private const int VlanIdMask = 0x0FFF;

    /// <summary>Finds the network layer.</summary>
    /// <param name="link">Link type of the capture.</param>
    /// <param name="data">The captured octets.</param>
    /// <param name="etherType">What follows, as an <see cref="EtherType"/> number.</param>
    /// <param name="offset">Octet of <paramref name="data"/> at which it begins; may be the end of the data.</param>
    /// <param name="vlanId">VLAN of the innermost tag, 0 to 4095; -1 without a tag.</param>
    /// <param name="error">Why not: too short, an unsupported link type, or a family that is not IP.</param>
    /// <returns>Whether it was found.</returns>
    public static bool TryFindNetworkLayer(
        LinkType link, ReadOnlySpan<byte> data, out ushort etherType, out int offset, out int vlanId, out WireError error)
    {
        etherType = 0;
        offset = 0;
        vlanId = -1;
        switch (link)
        {
            case LinkType.Ethernet:
                return TryFollowType(data, Field.EthernetType, Field.EthernetLength, ref etherType, ref offset, ref vlanId, out error);
            case LinkType.LinuxSll:
                return TryFollowType(data, Field.SllProtocol, Field.SllLength, ref etherType, ref offset, ref vlanId, out error);
            case LinkType.LinuxSll2:
                return TryFollowType(data, Field.Sll2Protocol, Field.Sll2Length, ref etherType, ref offset, ref vlanId, out error);
            case LinkType.Null:
            case LinkType.Loop:
                offset = Field.FamilyLength;
                return TryReadFamily(data, link == LinkType.Null, out etherType, out error);
            case LinkType.Raw:
                return TryReadVersion(data, out etherType, out error);
            case LinkType.Ipv4:
                etherType = EtherType.Ipv4;
                error = default;
                return true;
            case LinkType.Ipv6:
                etherType = EtherType.Ipv6;
                error = default;
                return true;
            default:
                error = new WireError(WireErrorKind.NotThisProtocol, 0, (long)LinkType.Ethernet, (long)link);
                return false;
        }
    }

    /// <summary>Whether an Ethernet frame holds IPv4 without a VLAN tag.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static bool IsPlainIpv4(ReadOnlySpan<byte> frame) =>
        frame.Length >= Field.EthernetLength
        && BinaryPrimitives.ReadUInt16BigEndian(frame[Field.EthernetType..]) == EtherType.Ipv4;

    private static bool TryFollowType(
        ReadOnlySpan<byte> data, int typeAt, int length, ref ushort etherType, ref int offset, ref int vlanId, out WireError error)
    {
        if (data.Length < length)
        {
            error = WireError.Truncated(length, data.Length);
            return false;
        }

        ushort type = BinaryPrimitives.ReadUInt16BigEndian(data[typeAt..]);
        while (EtherType.IsVlanTag(type))
        {
            if (data.Length - length < Field.TagLength)
            {
                error = WireError.Truncated(length + Field.TagLength, data.Length);
                return false;
            }

            vlanId = BinaryPrimitives.ReadUInt16BigEndian(data[length..]) & VlanIdMask;
            typeAt = length + Field.TypeLength;
            type = BinaryPrimitives.ReadUInt16BigEndian(data[typeAt..]);
            length += Field.TagLength;
        }

        etherType = type;
        offset = length;
        bool isType = type >= EtherType.Smallest;
        error = isType ? default : new WireError(WireErrorKind.NotThisProtocol, typeAt, EtherType.Ipv4, type);
        return isType;
    }

    /// <summary>The family is 2 for IPv4; IPv6 has a number per operating system: 24, 28 or 30.</summary>
    private static bool TryReadFamily(ReadOnlySpan<byte> data, bool eitherByteOrder, out ushort etherType, out WireError error)
    {
        etherType = 0;
        if (data.Length < Field.FamilyLength)
        {
            error = WireError.Truncated(Field.FamilyLength, data.Length);
            return false;
        }

        uint family = BinaryPrimitives.ReadUInt32BigEndian(data);
        if (eitherByteOrder && family > ushort.MaxValue)
        {
            family = BinaryPrimitives.ReverseEndianness(family);
        }

        etherType = family switch
        {
            2 => EtherType.Ipv4,
            24 or 28 or 30 => EtherType.Ipv6,
            _ => 0,
        };
        error = etherType != 0 ? default : new WireError(WireErrorKind.NotThisProtocol, 0, 2, family);
        return etherType != 0;
    }

    private static bool TryReadVersion(ReadOnlySpan<byte> data, out ushort etherType, out WireError error)
    {
        etherType = 0;
        if (data.IsEmpty)
        {
            error = WireError.Truncated(1, 0);
            return false;
        }

        int version = data[0] >> 4;
        etherType = version switch { 4 => EtherType.Ipv4, 6 => EtherType.Ipv6, _ => 0 };
        error = etherType != 0 ? default : new WireError(WireErrorKind.NotThisProtocol, 0, 4, version);
        return etherType != 0;
    }
}
