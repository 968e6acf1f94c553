namespace DmxProbe.Tui;

/// <summary>A patch of colour on a row: what a light should look like. The row says it in words too.</summary>
/// <param name="From">First column.</param>
/// <param name="Width">Columns.</param>
/// <param name="Red">0 to 255.</param>
/// <param name="Green">0 to 255.</param>
/// <param name="Blue">0 to 255.</param>
internal readonly record struct Swatch(int From, int Width, byte Red, byte Green, byte Blue);
