namespace DmxProbe.Tui;

/// <summary>
/// The texts of rows without garbage: a row is put together in a buffer of its thread, and one that stood there lately is the
/// same string again, so that drawing what has not changed allocates nothing.
/// </summary>
internal static class RowTexts
{
    // Two generations: more than the rows of two screens, and bounded.
    private const int MostKept = 128;
    [ThreadStatic]
    private static HashSet<string>? _young;
    [ThreadStatic]
    private static HashSet<string>? _old;

    /// <summary>A text.</summary>
    public static string Of(RowText text) => Kept(text.Ended());

    /// <summary>A text cut to a width, with a mark where something is missing.</summary>
    public static string Cut(int width, RowText text)
    {
        ReadOnlySpan<char> whole = text.Ended();
        int kept = Wrapped.Kept(whole, width);
        return kept == whole.Length ? Kept(whole) : Of($"{whole[..kept]}{(width > 1 ? "…" : "")}");
    }

    private static string Kept(ReadOnlySpan<char> text)
    {
        _young ??= new HashSet<string>(StringComparer.Ordinal);
        _old ??= new HashSet<string>(StringComparer.Ordinal);
        if (_young.GetAlternateLookup<ReadOnlySpan<char>>().TryGetValue(text, out string? known))
        {
            return known;
        }

        if (!_old.GetAlternateLookup<ReadOnlySpan<char>>().TryGetValue(text, out known))
        {
            known = text.ToString();
        }

        if (_young.Count >= MostKept)
        {
            (_young, _old) = (_old, _young);
            _young.Clear();
        }

        _young.Add(known);
        return known;
    }
}
