namespace DmxProbe.Tui;

/// <summary>What a guided screen shows: words above, large keys below.</summary>
/// <param name="Text">The words; as many as there are, the screen scrolls them.</param>
/// <param name="Keys">The large keys.</param>
internal readonly record struct GuideRows(IReadOnlyList<ScreenRow> Text, IReadOnlyList<BigKey> Keys)
{
    /// <summary>Lays them out: words first, keys at the foot; words that do not fit are scrolled, never cut unsaid.</summary>
    /// <param name="width">Columns.</param>
    /// <param name="room">Rows.</param>
    /// <param name="top">First row of words shown; kept within them.</param>
    /// <param name="places">Takes where keys can be clicked: row, columns from and to.</param>
    public IReadOnlyList<ScreenRow> LaidOut(int width, int room, ref int top, Action<int, int, int, ScreenKey> places)
    {
        int left = room - Text.Count;
        (IReadOnlyList<ScreenRow> keys, IReadOnlyList<(int Row, int From, int To, ScreenKey Key)> clicks) = BigKeys.Of(Keys, width, Math.Max(left - 1, room / 2));
        int shown = Math.Max(1, room - keys.Count);
        List<ScreenRow> rows = [];
        if (Text.Count > shown)
        {
            top = Math.Clamp(top, 0, Text.Count - shown + 1);
            rows.AddRange(Text.Skip(top).Take(shown - 1));
            rows.Add(new ScreenRow(Wrapped.Cut(top + shown - 1 < Text.Count ? " ↓ more" : " ↑ more", width), Tint.Frame));
        }
        else
        {
            top = 0;
            rows.AddRange(Text);
        }

        while (rows.Count < shown)
        {
            rows.Add(new ScreenRow(""));
        }

        foreach ((int row, int from, int to, ScreenKey key) in clicks)
        {
            places(rows.Count + row, from, to, key);
        }

        rows.AddRange(keys);
        return rows;
    }
}
