using System.Numerics;
using System.Runtime.InteropServices;

namespace DmxProbe.Analysis.Index;

/// <summary>A buffer that grows, and the variable-length numbers that are written into it: 7 bits an octet, lowest first.</summary>
internal struct Octets
{
    private byte[]? _octets;

    /// <summary>Octets written.</summary>
    public int Length { get; private set; }

    /// <summary>What was written.</summary>
    public readonly ReadOnlySpan<byte> Written => _octets.AsSpan(0, Length);

    /// <summary>Forgets what was written; the room stays.</summary>
    public void Clear() => Length = 0;

    /// <summary>Writes one octet.</summary>
    public void Add(byte value)
    {
        if (_octets is null || Length == _octets.Length)
        {
            Array.Resize(ref _octets, _octets is null ? 16 : _octets.Length * 2);
        }

        _octets![Length++] = value;
    }

    /// <summary>Writes a number.</summary>
    public void AddNumber(ulong value)
    {
        while (value >= 0x80)
        {
            Add((byte)(0x80 | (value & 0x7F)));
            value >>= 7;
        }

        Add((byte)value);
    }

    /// <summary>Writes a number that may be negative.</summary>
    public void AddSigned(long value) => AddNumber(unchecked((ulong)(value << 1) ^ (ulong)(value >> 63)));

    /// <summary>Writes octets with their count before them.</summary>
    public void AddCounted(ReadOnlySpan<byte> octets)
    {
        AddNumber((ulong)octets.Length);
        foreach (byte octet in octets)
        {
            Add(octet);
        }
    }

    /// <summary>CRC-32C of octets, eight at a time (RFC 3720 appendix B.4 has the polynomial).</summary>
    public static uint Sum(ReadOnlySpan<byte> octets)
    {
        uint sum = uint.MaxValue;
        int whole = octets.Length & ~7;
        foreach (ulong word in MemoryMarshal.Cast<byte, ulong>(octets[..whole]))
        {
            sum = BitOperations.Crc32C(sum, word);
        }

        foreach (byte octet in octets[whole..])
        {
            sum = BitOperations.Crc32C(sum, octet);
        }

        return ~sum;
    }
}
