namespace DmxProbe.Tui;

/// <summary>Words at exactly a width, for a <see cref="RowText"/>.</summary>
/// <param name="words">The words.</param>
/// <param name="width">Columns.</param>
internal readonly ref struct Fitted(ReadOnlySpan<char> words, int width)
{
    /// <summary>The words.</summary>
    public ReadOnlySpan<char> Words { get; } = words;

    /// <summary>Columns.</summary>
    public int Width { get; } = width;

    /// <summary>Words at a width.</summary>
    public static Fitted To(ReadOnlySpan<char> words, int width) => new(words, width);
}
