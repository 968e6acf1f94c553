using System.Buffers.Binary;

namespace DmxProbe.Protocols.Sacn;

/// <summary>Component identifier: the UUID by which an sACN source is known (E1.31-2018 section 5.6).</summary>
/// <param name="High">The first 8 octets, network order.</param>
/// <param name="Low">The last 8 octets, network order.</param>
public readonly record struct Cid(ulong High, ulong Low)
{
    /// <summary>Octets of a CID.</summary>
    public const int Length = 16;

    private const int HalfLength = 8;

    /// <summary>Reads the 16 octets of a CID.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than 16 octets.</exception>
    public static Cid Read(ReadOnlySpan<byte> octets) => new(
        BinaryPrimitives.ReadUInt64BigEndian(octets),
        BinaryPrimitives.ReadUInt64BigEndian(octets[HalfLength..]));

    /// <summary>As RFC 4122 writes it: ef07c8dd-0064-4401-a3a2-459ef8e6143e.</summary>
    public override string ToString()
    {
        Span<byte> octets = stackalloc byte[Length];
        BinaryPrimitives.WriteUInt64BigEndian(octets, High);
        BinaryPrimitives.WriteUInt64BigEndian(octets[HalfLength..], Low);
        return new Guid(octets, bigEndian: true).ToString("D");
    }
}
