namespace DmxProbe.Tui;

/// <summary>The keys that work where the person is, as the bottom row shows them.</summary>
internal static class ScreenHints
{
    /// <summary>The keys.</summary>
    /// <param name="state">Where the person is.</param>
    /// <param name="picture">What is shown; null before anything was heard.</param>
    /// <param name="moves">Knows what the view holds.</param>
    /// <param name="hasSheet">Whether a patch sheet was given.</param>
    /// <param name="guides">Whether the guided screens can be reached.</param>
    public static IReadOnlyList<KeyHint> Of(ScreenState state, RigPicture? picture, ScreenMoves moves, bool hasSheet, bool guides)
    {
        if (state.View == ScreenView.Locate || picture is null)
        {
            return Guide(alone: false);
        }

        List<KeyHint> hints = state.View switch
        {
            ScreenView.Rig => [Arrows("choose"), Enter("slots")],
            ScreenView.Universe when moves.HasUnits(picture) => state.Unit is null ? [Arrows("choose")] : [Arrows("choose"), Enter("unit")],
            ScreenView.Universe or ScreenView.Walk => [Arrows("scroll")],
            ScreenView.Keys => [Arrows("scroll"), new("Esc", "back", new ScreenKey(KeyKind.Back))],
            ScreenView.Unit => [Arrows("scroll"), new("NP", "beside", ScreenKey.Typed('N')) { GivesWay = true }],
            ScreenView.Findings => [Arrows("choose"), Enter("its slots")],
            _ => [Arrows("choose")],
        };
        if (guides && state.View == ScreenView.Unit)
        {
            hints.Add(KeyHint.Letter('D', "locate"));
        }

        if (state.View is ScreenView.Universe or ScreenView.Unit && moves.Senders(picture) > 1)
        {
            hints.Add(KeyHint.Letter('S', "sender"));
        }

        if (hasSheet)
        {
            hints.Add(KeyHint.Letter('G', "unit"));
        }

        if (guides && state.View == ScreenView.Rig)
        {
            hints.Add(KeyHint.Letter('C', "check"));
        }

        foreach ((char letter, string does, ScreenView view) in new[]
        {
            ('R', "rig", ScreenView.Rig), ('U', "slots", ScreenView.Universe), ('T', "timing", ScreenView.Timing), ('F', "findings", ScreenView.Findings),
        })
        {
            if (state.View != view)
            {
                hints.Add(KeyHint.Letter(letter, does) with { GivesWay = letter == 'T' && state.View == ScreenView.Unit });
            }
        }

        if (state.View != ScreenView.Keys)
        {
            hints.Add(KeyHint.Letter('?', "keys"));
        }

        hints.Add(KeyHint.Letter('Q', "ends"));
        return hints;
    }

    /// <summary>The keys of the guided questions beside their answers.</summary>
    /// <param name="alone">Whether there is nothing to go back to.</param>
    public static IReadOnlyList<KeyHint> Guide(bool alone) =>
        [Arrows("scroll"), new("Esc", alone ? "stops here" : "back", new ScreenKey(KeyKind.Back)), .. alone ? Array.Empty<KeyHint>() : [KeyHint.Letter('Q', "ends")]];

    private static KeyHint Arrows(string does) => new("↑↓", does, new ScreenKey(KeyKind.Down)) { GivesWay = true };

    private static KeyHint Enter(string does) => new("Enter", does, new ScreenKey(KeyKind.Enter));
}
