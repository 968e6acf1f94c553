using ScottPlot;

using SkiaSharp;

namespace DmxProbe.Reporting.Plots;

/// <summary>The font of every picture, carried along: without one all text would vanish where a system has none.</summary>
internal sealed class PlotFont : IFontResolver
{
    /// <summary>Its name.</summary>
    public const string Name = "DejaVu Sans";

    private static readonly Lazy<SKTypeface> Face = new(Load);
    private static readonly Lazy<bool> IsInUse = new(() =>
    {
        Fonts.FontResolvers.Insert(0, new PlotFont());
        Fonts.Default = Name;
        return true;
    });

    /// <summary>Makes the font known to the plot library; once is enough.</summary>
    public static void Use() => _ = IsInUse.Value;

    /// <inheritdoc/>
    public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing width) =>
        fontName == Name ? Face.Value : null;

    /// <inheritdoc/>
    public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) => fontName == Name ? Face.Value : null;

    private static SKTypeface Load()
    {
        using Stream font = typeof(PlotFont).Assembly.GetManifestResourceStream("DejaVuSans.ttf")!;
        return SKTypeface.FromStream(font);
    }
}
