using System.Buffers.Binary;
using System.Text;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>A buffer of little-endian pcapng blocks; one block is open between <see cref="Begin"/> and <see cref="End"/>.</summary>
internal sealed class PcapngBlockBuilder(int capacity)
{
    private const int LongestOption = ushort.MaxValue;

    private byte[] _bytes = new byte[capacity];
    private int _blockStart;

    /// <summary>Octets in the buffer.</summary>
    public int Length { get; private set; }

    /// <summary>The octets in the buffer.</summary>
    public ReadOnlySpan<byte> Written => _bytes.AsSpan(0, Length);

    /// <summary>Forgets what was written.</summary>
    public void Clear() => Length = 0;

    /// <summary>Opens a block.</summary>
    /// <param name="type">Block type.</param>
    /// <param name="bodyRoom">The most octets its body can take.</param>
    public void Begin(uint type, int bodyRoom)
    {
        int needed = Length + bodyRoom + PcapngFormat.BlockOverhead;
        if (needed > _bytes.Length)
        {
            Array.Resize(ref _bytes, needed);
        }

        _blockStart = Length;
        PutUInt32(type);
        PutUInt32(0);
    }

    /// <summary>Closes the block: writes its total length at both ends.</summary>
    public void End()
    {
        uint total = (uint)(Length - _blockStart + 4);
        PutUInt32(total);
        BinaryPrimitives.WriteUInt32LittleEndian(_bytes.AsSpan(_blockStart + 4), total);
    }

    public void PutUInt16(ushort value) => BinaryPrimitives.WriteUInt16LittleEndian(Take(2), value);

    public void PutUInt32(uint value) => BinaryPrimitives.WriteUInt32LittleEndian(Take(4), value);

    public void PutUInt64(ulong value) => BinaryPrimitives.WriteUInt64LittleEndian(Take(8), value);

    /// <summary>Octets as they are.</summary>
    public void Put(ReadOnlySpan<byte> data) => data.CopyTo(Take(data.Length));

    /// <summary>Zeros up to the next multiple of 4.</summary>
    public void PutPadding() => Take(PcapngFormat.Padded(Length - _blockStart) - (Length - _blockStart)).Clear();

    /// <summary>Octets and the zeros up to the next multiple of 4.</summary>
    public void PutPadded(ReadOnlySpan<byte> data)
    {
        Span<byte> room = Take(PcapngFormat.Padded(data.Length));
        data.CopyTo(room);
        room[data.Length..].Clear();
    }

    /// <summary>An option of octets.</summary>
    public void PutOption(ushort code, ReadOnlySpan<byte> value)
    {
        PutUInt16(code);
        PutUInt16((ushort)value.Length);
        PutPadded(value);
    }

    /// <summary>An option of text in UTF-8, without a terminating zero; text over 65,535 octets is cut.</summary>
    public void PutOption(ushort code, string text)
    {
        PutUInt16(code);
        Span<byte> length = Take(2);
        Encoding.UTF8.TryGetBytes(text, _bytes.AsSpan(Length), out int octets);
        if (octets > LongestOption)
        {
            octets = Utf8Text.CutLength(_bytes.AsSpan(Length, octets), LongestOption);
        }

        BinaryPrimitives.WriteUInt16LittleEndian(length, (ushort)octets);
        Length += octets;
        Take(PcapngFormat.Padded(octets) - octets).Clear();
    }

    /// <summary>An option of one 64-bit count.</summary>
    public void PutOption(ushort code, ulong value)
    {
        PutUInt16(code);
        PutUInt16(8);
        PutUInt64(value);
    }

    /// <summary>opt_endofopt.</summary>
    public void PutEndOfOptions() => PutUInt32(0);

    private Span<byte> Take(int count)
    {
        Span<byte> taken = _bytes.AsSpan(Length, count);
        Length += count;
        return taken;
    }
}
