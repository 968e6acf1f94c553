namespace DmxProbe.Protocols.CaptureFiles.Lines;

/// <summary>The identifier codes of a VCD file. Those of one character, which most files have, are found by one look.</summary>
internal sealed class VcdIdentifiers
{
    /// <summary>What is not declared.</summary>
    public const int Unknown = -1;

    private readonly int[] _short = new int[256];
    private readonly Dictionary<string, int> _all = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int>.AlternateLookup<ReadOnlySpan<char>> _lookup;
    private readonly char[] _text = new char[LongestCode];

    /// <summary>Longest code that is read.</summary>
    public const int LongestCode = 128;

    /// <summary>Starts empty.</summary>
    public VcdIdentifiers()
    {
        Array.Fill(_short, Unknown);
        _lookup = _all.GetAlternateLookup<ReadOnlySpan<char>>();
    }

    /// <summary>The numbers of codes of one character by that character; <see cref="Unknown"/> for none.</summary>
    public ReadOnlySpan<int> Short => _short;

    /// <summary>Adds a code.</summary>
    /// <returns>False where it is there already.</returns>
    public bool TryAdd(ReadOnlySpan<byte> code, int number)
    {
        string text = System.Text.Encoding.Latin1.GetString(code);
        if (!_all.TryAdd(text, number))
        {
            return false;
        }

        if (code.Length == 1)
        {
            _short[code[0]] = number;
        }

        return true;
    }

    /// <summary>The number of a code.</summary>
    public int Find(ReadOnlySpan<byte> code)
    {
        if (code.Length == 1)
        {
            return _short[code[0]];
        }

        if (code.Length > LongestCode)
        {
            return Unknown;
        }

        Span<char> text = _text.AsSpan(0, code.Length);
        for (int i = 0; i < code.Length; i++)
        {
            text[i] = (char)code[i];
        }

        return _lookup.TryGetValue(text, out int number) ? number : Unknown;
    }

    /// <summary>Whether a longer code starts with this one, so that a cut file may have meant that.</summary>
    public bool IsStartOfAnother(ReadOnlySpan<byte> code)
    {
        string text = System.Text.Encoding.Latin1.GetString(code);
        return _all.Keys.Any(other => other.Length > text.Length && other.StartsWith(text, StringComparison.Ordinal));
    }
}
