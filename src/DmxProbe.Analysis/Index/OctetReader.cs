using System.Text;

namespace DmxProbe.Analysis.Index;

/// <summary>Reads what <see cref="Octets"/> wrote. Past the end, or at a number that cannot be, it says so and gives zeros.</summary>
internal ref struct OctetReader(ReadOnlySpan<byte> octets)
{
    private ReadOnlySpan<byte> _rest = octets;

    /// <summary>Whether something did not fit.</summary>
    public bool IsBroken { get; private set; }

    /// <summary>Whether all was read.</summary>
    public readonly bool IsAtEnd => _rest.IsEmpty;

    /// <summary>Reads one octet.</summary>
    public byte Octet()
    {
        if (_rest.IsEmpty)
        {
            IsBroken = true;
            return 0;
        }

        byte value = _rest[0];
        _rest = _rest[1..];
        return value;
    }

    /// <summary>Reads a number.</summary>
    public ulong Number()
    {
        ulong value = 0;
        for (int shift = 0; shift < 64; shift += 7)
        {
            byte octet = Octet();
            value |= (ulong)(octet & 0x7F) << shift;
            if (octet < 0x80)
            {
                return value;
            }
        }

        IsBroken = true;
        return 0;
    }

    /// <summary>Reads a number that is a count or a place: at most a limit.</summary>
    public int Count(int most)
    {
        ulong value = Number();
        if (value > (ulong)most)
        {
            IsBroken = true;
            return 0;
        }

        return (int)value;
    }

    /// <summary>Reads a number that may be negative.</summary>
    public long Signed()
    {
        ulong value = Number();
        return unchecked((long)(value >> 1) ^ -(long)(value & 1));
    }

    /// <summary>Reads text of at most 4,096 octets; what is no UTF-8 becomes U+FFFD.</summary>
    public string Text()
    {
        const int Longest = 4096;
        int length = Count(Longest);
        if (length > _rest.Length)
        {
            IsBroken = true;
            return "";
        }

        string text = Encoding.UTF8.GetString(_rest[..length]);
        _rest = _rest[length..];
        return text;
    }
}
