using System.Buffers.Binary;
using System.Net;

namespace DmxProbe.Protocols.Net;

/// <summary>An IPv4 or IPv6 address as a value: two addresses are equal when family and number are.</summary>
public readonly record struct IpAddress
{
    private const int Ipv6Length = 16;
    private const int HalfLength = 8;

    private IpAddress(ulong high, ulong low, bool isIpv6)
    {
        High = high;
        Low = low;
        IsIpv6 = isIpv6;
    }

    /// <summary>Upper 64 bits of an IPv6 address; 0 for IPv4.</summary>
    public ulong High { get; }

    /// <summary>Lower 64 bits of an IPv6 address, or the 32 bits of an IPv4 address.</summary>
    public ulong Low { get; }

    /// <summary>Whether it is an IPv6 address. The default value is IPv4 0.0.0.0.</summary>
    public bool IsIpv6 { get; }

    /// <summary>Whether it names a group: 224.0.0.0/4 or ff00::/8.</summary>
    public bool IsMulticast => IsIpv6 ? High >> 56 == 0xFF : Low >> 28 == 0xE;

    /// <summary>Whether it is 255.255.255.255. A directed broadcast cannot be told without the mask.</summary>
    public bool IsLimitedBroadcast => !IsIpv6 && Low == uint.MaxValue;

    /// <summary>An IPv4 address; the most significant octet is the first written.</summary>
    public static IpAddress FromIpv4(uint address) => new(0, address, isIpv6: false);

    /// <summary>An IPv6 address from its upper and lower half.</summary>
    public static IpAddress FromIpv6(ulong high, ulong low) => new(high, low, isIpv6: true);

    /// <summary>An IPv6 address from its 16 octets in network order.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not 16 octets.</exception>
    public static IpAddress FromIpv6(ReadOnlySpan<byte> octets)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(octets.Length, Ipv6Length);
        return new(
            BinaryPrimitives.ReadUInt64BigEndian(octets),
            BinaryPrimitives.ReadUInt64BigEndian(octets[HalfLength..]),
            isIpv6: true);
    }

    /// <summary>Writes the 16 octets of an IPv6 address or the 4 of an IPv4 address, in network order.</summary>
    /// <returns>How many were written.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The destination is too short.</exception>
    public int CopyTo(Span<byte> destination)
    {
        if (!IsIpv6)
        {
            BinaryPrimitives.WriteUInt32BigEndian(destination, (uint)Low);
            return sizeof(uint);
        }

        BinaryPrimitives.WriteUInt64BigEndian(destination, High);
        BinaryPrimitives.WriteUInt64BigEndian(destination[HalfLength..], Low);
        return Ipv6Length;
    }

    /// <summary>Dotted for IPv4 (192.0.2.1), RFC 5952 for IPv6 (ff18::8300:1).</summary>
    public override string ToString()
    {
        Span<byte> octets = stackalloc byte[Ipv6Length];
        return new IPAddress(octets[..CopyTo(octets)]).ToString();
    }
}
