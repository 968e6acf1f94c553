namespace DmxProbe.Tui;

/// <summary>Every key, in words.</summary>
internal static class KeysView
{
    private static readonly (string Key, string Does)[] Everywhere =
    [
        ("R", "the rig: every universe, the ones in trouble first"),
        ("U", "the slots of the chosen universe"),
        ("T", "timing, against its limits"),
        ("F", "what was found, with the evidence"),
        ("G", "to a unit: type the beginning of its name, or its end, then Enter"),
        ("Enter", "opens what is chosen: the slots, the unit, the moment of a finding"),
        ("arrows", "up and down choose or scroll, page keys go further"),
        ("S", "the next sender, where several send a universe"),
        ("N and P", "the units beside, on the unit's screen"),
        ("D", "on the unit's screen: the light does not follow; finds out what it is reading"),
        ("C", "the function check, unit by unit"),
        ("Esc", "back"),
        ("Q", "ends; Ctrl-C too"),
    ];

    private static readonly (string Key, string Does)[] Recording =
    [
        ("Space", "plays and stops"),
        ("left, right", "a second back and on; Home and End: the start and the end"),
        (", and .", "the change before and the next one in what is shown"),
        ("L", "where the unit next goes dark, comes on or starts to flash"),
        ("M and W", "the next mark, the next fault or warning"),
        ("J", "a time: 19:41:07, or seconds from the start"),
        ("A and B", "set two points; play then goes round between them"),
        ("+ and -", "faster and slower"),
    ];

    /// <summary>The rows of the view; keeps <see cref="ScreenState.Top"/> within them.</summary>
    /// <param name="state">Where the person is.</param>
    /// <param name="review">Whether a recording is shown.</param>
    /// <param name="width">Columns.</param>
    /// <param name="room">Rows.</param>
    public static IReadOnlyList<ScreenRow> Rows(ScreenState state, bool review, int width, int room)
    {
        ScreenRow[] rows =
        [
            .. (review ? Recording.Concat(Everywhere) : Everywhere).Select(key => new ScreenRow(Wrapped.Cut($"   {Wrapped.Fit(key.Key, 12)} {key.Does}", width))),
            new(Wrapped.Cut("   A mouse works too: a click chooses, a second opens; a click on a key is the key.", width)),
        ];
        state.Top = Math.Clamp(state.Top, 0, Math.Max(0, rows.Length - room));
        return [.. rows.Skip(state.Top).Take(room)];
    }
}
