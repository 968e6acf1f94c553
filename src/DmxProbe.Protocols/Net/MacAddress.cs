using System.Buffers.Binary;
using System.Globalization;

namespace DmxProbe.Protocols.Net;

/// <summary>The 48 bits of an Ethernet adapter's address as a value.</summary>
/// <param name="Value">The 48 bits, first octet sent most significant.</param>
public readonly record struct MacAddress(ulong Value)
{
    /// <summary>Octets of an address.</summary>
    public const int Size = 6;

    /// <summary>Whether it names a group of adapters, broadcast included.</summary>
    public bool IsGroup => (Value >> 40 & 1) != 0;

    /// <summary>Whether it names every adapter: ff:ff:ff:ff:ff:ff.</summary>
    public bool IsBroadcast => Value == 0xFFFF_FFFF_FFFF;

    /// <summary>Reads an address.</summary>
    /// <param name="data">At least <see cref="Size"/> octets.</param>
    /// <exception cref="ArgumentOutOfRangeException">Fewer octets.</exception>
    public static MacAddress Read(ReadOnlySpan<byte> data) =>
        new(((ulong)BinaryPrimitives.ReadUInt16BigEndian(data) << 32) | BinaryPrimitives.ReadUInt32BigEndian(data[2..]));

    /// <summary>As people write it: <c>02:00:0a:14:00:10</c>.</summary>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"{Value >> 40 & 0xFF:x2}:{Value >> 32 & 0xFF:x2}:{Value >> 24 & 0xFF:x2}:{Value >> 16 & 0xFF:x2}:{Value >> 8 & 0xFF:x2}:{Value & 0xFF:x2}");
}
