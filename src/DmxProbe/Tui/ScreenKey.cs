namespace DmxProbe.Tui;

/// <summary>What was pressed: a letter, or one of the keys below with <c>Letter</c> 0.</summary>
/// <param name="Kind">The key.</param>
/// <param name="Letter">The character typed; 0 for other keys.</param>
internal readonly record struct ScreenKey(KeyKind Kind, char Letter = '\0')
{
    /// <summary>A typed character.</summary>
    public static ScreenKey Typed(char letter) => new(KeyKind.Letter, letter);
}
