namespace DmxProbe.Tui;

/// <summary>A key of a guided screen: shown large, one for each answer.</summary>
/// <param name="Name">What stands on it.</param>
/// <param name="Says">What pressing it says.</param>
/// <param name="Key">The key.</param>
internal readonly record struct BigKey(string Name, string Says, ScreenKey Key)
{
    /// <summary>Whether it is one of the rarer answers: those share a row.</summary>
    public bool IsRare { get; init; }

    /// <summary>A letter or figure.</summary>
    public static BigKey Letter(char letter, string says) => new(letter.ToString(), says, ScreenKey.Typed(letter));
}
