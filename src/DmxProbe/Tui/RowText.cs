using System.Globalization;
using System.Runtime.CompilerServices;

namespace DmxProbe.Tui;

/// <summary>A text being put together, for <see cref="RowTexts"/>. Those begun within another come behind it in the same buffer.</summary>
[InterpolatedStringHandler]
internal readonly ref struct RowText
{
    [ThreadStatic]
    private static char[]? _buffer;
    [ThreadStatic]
    private static int _used;
    private readonly int _from;

    /// <summary>Begins.</summary>
    public RowText(int literalLength, int formattedCount)
    {
        _buffer ??= new char[1024];
        _from = _used;
    }

    /// <summary>What was put together; valid until the next text begins.</summary>
    public ReadOnlySpan<char> Ended()
    {
        ReadOnlySpan<char> whole = _buffer.AsSpan(_from, _used - _from);
        _used = _from;
        return whole;
    }

    /// <summary>Adds words.</summary>
    public void AppendLiteral(string words) => AppendFormatted(words.AsSpan());

    /// <summary>Adds words.</summary>
    public void AppendFormatted(string? words) => AppendFormatted(words.AsSpan());

    /// <summary>Adds words at a width, to the left of it where it is below 0.</summary>
    public void AppendFormatted(string? words, int alignment) => Align(words.AsSpan(), alignment);

    /// <summary>Adds words.</summary>
    public void AppendFormatted(ReadOnlySpan<char> words)
    {
        words.CopyTo(Room(words.Length));
        _used += words.Length;
    }

    /// <summary>Adds words at exactly a width: cut with a mark, or with spaces behind.</summary>
    public void AppendFormatted(Fitted fitted)
    {
        ReadOnlySpan<char> words = fitted.Words;
        int kept = Wrapped.Kept(words, fitted.Width);
        AppendFormatted(words[..kept]);
        bool isCut = kept < words.Length && fitted.Width > 1;
        if (isCut)
        {
            AppendFormatted('…');
        }

        Spaces(fitted.Width - Wrapped.Columns(words[..kept]) - (isCut ? 1 : 0));
    }

    /// <summary>Adds a figure or a character.</summary>
    public void AppendFormatted<T>(T value)
        where T : ISpanFormattable => AppendFormatted(value, 0, null);

    /// <summary>Adds a figure or a character at a width.</summary>
    public void AppendFormatted<T>(T value, int alignment)
        where T : ISpanFormattable => AppendFormatted(value, alignment, null);

    /// <summary>Adds a figure in a format.</summary>
    public void AppendFormatted<T>(T value, string? format)
        where T : ISpanFormattable => AppendFormatted(value, 0, format);

    /// <summary>Adds a figure at a width and in a format.</summary>
    public void AppendFormatted<T>(T value, int alignment, string? format)
        where T : ISpanFormattable
    {
        Span<char> text = stackalloc char[64];
        Align(value.TryFormat(text, out int length, format, CultureInfo.InvariantCulture) ? text[..length] : value.ToString(format, CultureInfo.InvariantCulture), alignment);
    }

    private void Align(ReadOnlySpan<char> words, int alignment)
    {
        int spaces = Math.Abs(alignment) - words.Length;
        if (alignment > 0)
        {
            Spaces(spaces);
        }

        AppendFormatted(words);
        if (alignment < 0)
        {
            Spaces(spaces);
        }
    }

    private static void Spaces(int count)
    {
        if (count > 0)
        {
            Room(count).Fill(' ');
            _used += count;
        }
    }

    private static Span<char> Room(int count)
    {
        if (_used + count > _buffer!.Length)
        {
            Array.Resize(ref _buffer, Math.Max(_used + count, 2 * _buffer.Length));
        }

        return _buffer.AsSpan(_used, count);
    }
}
