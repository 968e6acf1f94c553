namespace DmxProbe.Tui;

/// <summary>One row of the screen. The text is safe to show: views pass names through <c>Printable</c>.</summary>
/// <param name="Text">What stands there; cut at the edge of the screen.</param>
/// <param name="Tint">How it stands out.</param>
internal readonly record struct ScreenRow(string Text, Tint Tint = Tint.Plain)
{
    /// <summary>A patch of colour in it; null for none.</summary>
    public Swatch? Swatch { get; init; }

    /// <summary>What a click on it chooses: the place in the list of the view, from 1; 0 for nothing.</summary>
    public int Choice { get; init; }
}
