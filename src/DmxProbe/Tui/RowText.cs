using System.Globalization;
using System.Runtime.CompilerServices;

namespace DmxProbe.Tui;

/// <summary>A text being put together, for <see cref="RowTexts"/>. Those begun within another come behind it in the same buffer.</summary>
[InterpolatedStringHandler]
internal readonly ref struct RowText
{
    [ThreadStatic]
    private static Buffer? _shared;
    private readonly Buffer _buffer;
    private readonly int _from;

    /// <summary>Begins.</summary>
    public RowText(int literalLength, int formattedCount)
    {
        _buffer = _shared ??= new Buffer();
        _from = _buffer.Used;
    }

    /// <summary>What was put together; valid until the next text begins.</summary>
    public ReadOnlySpan<char> Ended()
    {
        ReadOnlySpan<char> whole = _buffer.Characters.AsSpan(_from, _buffer.Used - _from);
        _buffer.Used = _from;
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
        words.CopyTo(_buffer.Add(words.Length));
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

    private void Spaces(int count)
    {
        if (count > 0)
        {
            _buffer.Add(count).Fill(' ');
        }
    }

    private sealed class Buffer
    {
        public char[] Characters { get; private set; } = new char[1024];

        public int Used { get; set; }

        public Span<char> Add(int count)
        {
            if (Used + count > Characters.Length)
            {
                char[] larger = new char[Math.Max(Used + count, 2 * Characters.Length)];
                Characters.AsSpan(0, Used).CopyTo(larger);
                Characters = larger;
            }

            Used += count;
            return Characters.AsSpan(Used - count, count);
        }
    }
}
