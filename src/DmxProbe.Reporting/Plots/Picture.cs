namespace DmxProbe.Reporting.Plots;

/// <summary>A picture with everything that says the same without looking.</summary>
/// <param name="Title">What it shows, a heading.</param>
/// <param name="Svg">The picture.</param>
/// <param name="Width">Width in pixels at its natural size.</param>
/// <param name="Height">Height.</param>
/// <param name="Words">What there is to see in it, in words; may hold untrusted names.</param>
/// <param name="Columns">Headings of its data.</param>
/// <param name="Rows">Its data.</param>
public sealed record Picture(
    string Title, string Svg, int Width, int Height, string Words, IReadOnlyList<string> Columns, IReadOnlyList<IReadOnlyList<string>> Rows);
