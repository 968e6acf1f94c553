namespace DmxProbe.Tui;

/// <summary>Every key, in words: the most used first; in two columns where one is too long for the screen.</summary>
internal static class KeysView
{
    private const string Indent = "   ";
    private const int KeyColumns = 12;
    private const int ShortKeyColumns = 7;

    private static readonly (string Key, string Does, string Short)[] Everywhere =
    [
        ("arrows", "up and down choose or scroll, page keys go further", "choose or scroll"),
        ("Enter", "opens what is chosen: slots, unit, moment of a finding", "opens what is chosen"),
        ("G", "to a unit: type how its name begins or ends, then Enter", "to a unit, by its name"),
        ("D", "a unit does not follow: finds out what it is reading", "a unit that does not follow"),
        ("C", "the function check, unit by unit", "the function check"),
        ("R", "the rig: every universe, the ones in trouble first", "the rig, trouble first"),
        ("U", "the slots of the chosen universe", "slots of the universe"),
        ("T", "timing, against its limits", "timing, against its limits"),
        ("F", "what was found, with the evidence", "what was found"),
        ("S", "the next sender, where several send a universe", "the next sender"),
        ("N and P", "the units beside, on the unit's screen", "the units beside"),
        ("Esc", "back", "back"),
        ("Q", "ends; Ctrl-C too", "ends; Ctrl-C too"),
    ];

    private static readonly (string Key, string Does, string Short)[] Recording =
    [
        ("Space", "plays and stops", "plays and stops"),
        ("left, right", "a second back and on; Home and End: the start and the end", "a second back, on"),
        ("M and W", "the next mark, the next fault or warning", "next mark; next fault"),
        ("J", "a time: 19:41:07, seconds (12.5), or time code, t1:00:12:05", "a time, or time code"),
        ("L", "where the unit next goes dark, comes on or starts to flash", "next dark, lit or flashing"),
        (", and .", "the change before and the next one in what is shown", "the change before, next"),
        ("A and B", "set two points; play then goes round between them", "play between two points"),
        ("+ and -", "faster and slower", "faster and slower"),
    ];

    /// <summary>The rows of the view; keeps <see cref="ScreenState.Top"/> within them.</summary>
    /// <param name="state">Where the person is.</param>
    /// <param name="review">Whether a recording is shown.</param>
    /// <param name="width">Columns.</param>
    /// <param name="room">Rows.</param>
    public static IReadOnlyList<ScreenRow> Rows(ScreenState state, bool review, int width, int room)
    {
        (string Key, string Does, string Short)[] keys = review ? [.. Everywhere, .. Recording] : Everywhere;
        ScreenRow[] rows =
        [
            .. keys.Length < room ? keys.Select(key => Wrapped.Cut($"{Indent}{Wrapped.Fit(key.Key, KeyColumns)} {key.Does}", width)).Select(text => new ScreenRow(text))
                : InTwo(keys, review ? Everywhere.Length : (keys.Length + 1) / 2, width),
            new(Wrapped.Cut(Indent + "A mouse works too: a click chooses, a second one opens; keys can be clicked.", width)),
        ];
        state.Top = Math.Clamp(state.Top, 0, Math.Max(0, rows.Length - room));
        ScreenRow[] shown = [.. rows.Skip(state.Top).Take(room)];
        if (state.Top + room < rows.Length)
        {
            shown[^1] = new ScreenRow(Wrapped.Cut(Indent + "more below: the down arrow", width));
        }

        return shown;
    }

    private static IEnumerable<ScreenRow> InTwo((string Key, string Does, string Short)[] keys, int perColumn, int width)
    {
        int half = width / 2;
        for (int row = 0; row < perColumn; row++)
        {
            string right = row + perColumn < keys.Length ? One(keys[row + perColumn]) : "";
            yield return new ScreenRow(Wrapped.Cut(Indent + Wrapped.Fit(One(keys[row]), half - Indent.Length) + right, width).TrimEnd());
        }

        static string One((string Key, string Does, string Short) key) => Wrapped.Fit(key.Key switch
        {
            "left, right" => "← →",
            "arrows" => "↑ ↓",
            _ => key.Key,
        }, ShortKeyColumns) + " " + key.Short;
    }
}
