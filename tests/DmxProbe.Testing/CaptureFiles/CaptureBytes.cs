using System.Buffers.Binary;

namespace DmxProbe.Testing.CaptureFiles;

/// <summary>
/// Octets of capture files in either byte order, right or deliberately wrong. Knows nothing of the program's writer.
/// </summary>
public sealed class CaptureBytes(bool bigEndian = false)
{
    private readonly List<byte> _bytes = [];

    /// <summary>Octets so far.</summary>
    public byte[] ToArray() => [.. _bytes];

    /// <summary>Octets as they are.</summary>
    public CaptureBytes Raw(ReadOnlySpan<byte> octets)
    {
        _bytes.AddRange(octets);
        return this;
    }

    public CaptureBytes U16(int value)
    {
        Span<byte> octets = stackalloc byte[2];
        BinaryPrimitives.WriteUInt16LittleEndian(octets, (ushort)value);
        return Ordered(octets);
    }

    public CaptureBytes U32(uint value)
    {
        Span<byte> octets = stackalloc byte[4];
        BinaryPrimitives.WriteUInt32LittleEndian(octets, value);
        return Ordered(octets);
    }

    public CaptureBytes U64(ulong value)
    {
        Span<byte> octets = stackalloc byte[8];
        BinaryPrimitives.WriteUInt64LittleEndian(octets, value);
        return Ordered(octets);
    }

    /// <summary>The header of a classic pcap file.</summary>
    public CaptureBytes PcapHeader(uint magic = 0xA1B2C3D4, uint snapLength = 262_144, uint linkType = 1, int minor = 4) =>
        U32(magic).U16(2).U16(minor).U32(0).U32(0).U32(snapLength).U32(linkType);

    /// <summary>A record of a classic pcap file.</summary>
    public CaptureBytes PcapRecord(uint seconds, uint fraction, ReadOnlySpan<byte> data, uint? original = null, uint? captured = null) =>
        U32(seconds).U32(fraction).U32(captured ?? (uint)data.Length).U32(original ?? (uint)data.Length).Raw(data);

    /// <summary>A pcapng block, padded, with right lengths.</summary>
    public CaptureBytes Block(uint type, Action<CaptureBytes> body)
    {
        CaptureBytes inside = new(bigEndian);
        body(inside);
        while (inside._bytes.Count % 4 != 0)
        {
            inside._bytes.Add(0);
        }

        uint total = (uint)inside._bytes.Count + 12;
        return U32(type).U32(total).Raw(inside.ToArray()).U32(total);
    }

    /// <summary>A Section Header Block.</summary>
    public CaptureBytes Section(int major = 1, int minor = 0, ulong length = ulong.MaxValue) =>
        Block(0x0A0D0D0A, b => b.U32(0x1A2B3C4D).U16(major).U16(minor).U64(length));

    /// <summary>An Interface Description Block.</summary>
    public CaptureBytes Interface(int linkType = 1, uint snapLength = 0, Action<CaptureBytes>? options = null) =>
        Block(1, b =>
        {
            b.U16(linkType).U16(0).U32(snapLength);
            options?.Invoke(b);
        });

    /// <summary>An Enhanced Packet Block.</summary>
    public CaptureBytes Enhanced(
        uint id, ulong ticks, ReadOnlySpan<byte> data, uint? original = null, uint? captured = null, Action<CaptureBytes>? options = null)
    {
        byte[] copy = data.ToArray();
        return Block(6, b =>
        {
            b.U32(id).U32((uint)(ticks >> 32)).U32((uint)(ticks & uint.MaxValue));
            b.U32(captured ?? (uint)copy.Length).U32(original ?? (uint)copy.Length).Padded(copy);
            options?.Invoke(b);
        });
    }

    /// <summary>An Interface Statistics Block.</summary>
    public CaptureBytes Statistics(uint id, ulong ticks, Action<CaptureBytes>? options = null) =>
        Block(5, b =>
        {
            b.U32(id).U32((uint)(ticks >> 32)).U32((uint)(ticks & uint.MaxValue));
            options?.Invoke(b);
        });

    /// <summary>An option, padded.</summary>
    public CaptureBytes Option(int code, ReadOnlySpan<byte> value) => U16(code).U16(value.Length).Padded(value);

    /// <summary>An option of 8 octets.</summary>
    public CaptureBytes Option(int code, ulong value) => U16(code).U16(8).U64(value);

    /// <summary>Octets padded with zeros to a multiple of 4.</summary>
    public CaptureBytes Padded(ReadOnlySpan<byte> octets) => Raw(octets).Raw(new byte[(4 - (octets.Length % 4)) % 4]);

    private CaptureBytes Ordered(Span<byte> octets)
    {
        if (bigEndian)
        {
            octets.Reverse();
        }

        return Raw(octets);
    }
}
