namespace DmxProbe.Tui;

/// <summary>A key that works here, as the bottom row shows it; a click on it is the key.</summary>
/// <param name="Name">The key's name.</param>
/// <param name="Does">What it does, in a word or two.</param>
/// <param name="Key">The key.</param>
internal readonly record struct KeyHint(string Name, string Does, ScreenKey Key)
{
    /// <summary>Whether it is left out first where there is no room for all.</summary>
    public bool GivesWay { get; init; }

    /// <summary>As it is shown.</summary>
    public string Text => Does.Length > 0 ? Name + " " + Does : Name;

    /// <summary>A letter key.</summary>
    public static KeyHint Letter(char letter, string does) => new(letter.ToString(), does, ScreenKey.Typed(letter));
}
