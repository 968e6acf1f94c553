using System.Buffers.Binary;

namespace DmxProbe.Protocols.CaptureFiles;

/// <summary>Walks the options at the end of a pcapng block. The end mark may be missing.</summary>
internal ref struct PcapngOptions(ReadOnlySpan<byte> data, bool bigEndian)
{
    private ReadOnlySpan<byte> _left = data;

    /// <summary>Code of the current option.</summary>
    public ushort Code { get; private set; }

    /// <summary>Value of the current option, without padding.</summary>
    public ReadOnlySpan<byte> Value { get; private set; }

    /// <summary>True when an option runs past the end of its block.</summary>
    public bool IsDamaged { get; private set; }

    /// <summary>Moves to the next option.</summary>
    /// <returns>False after the last one, or where they are damaged.</returns>
    public bool MoveNext()
    {
        if (_left.IsEmpty)
        {
            return false;
        }

        if (_left.Length < 4)
        {
            IsDamaged = true;
            return false;
        }

        Code = bigEndian ? BinaryPrimitives.ReadUInt16BigEndian(_left) : BinaryPrimitives.ReadUInt16LittleEndian(_left);
        ReadOnlySpan<byte> lengthField = _left[2..];
        int length = bigEndian ? BinaryPrimitives.ReadUInt16BigEndian(lengthField) : BinaryPrimitives.ReadUInt16LittleEndian(lengthField);
        if (Code == PcapngFormat.Option.End)
        {
            return false;
        }

        _left = _left[4..];
        int padded = PcapngFormat.Padded(length);
        if (padded > _left.Length)
        {
            IsDamaged = true;
            return false;
        }

        Value = _left[..length];
        _left = _left[padded..];
        return true;
    }

    /// <summary>The current value as a 64-bit number.</summary>
    /// <returns>False when it is not 8 octets.</returns>
    public readonly bool TryGetUInt64(out ulong value)
    {
        if (Value.Length != 8)
        {
            value = 0;
            return false;
        }

        value = bigEndian ? BinaryPrimitives.ReadUInt64BigEndian(Value) : BinaryPrimitives.ReadUInt64LittleEndian(Value);
        return true;
    }
}
