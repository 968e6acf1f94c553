namespace DmxProbe.Analysis.Locate.Ask;

/// <summary>What a person says about a light.</summary>
/// <param name="Kind">What kind of thing.</param>
/// <param name="Colour">The colour, where one was named; it then is lit.</param>
/// <param name="Report">What it stores, for <see cref="SeenKind.Rdm"/>.</param>
public sealed record Seen(SeenKind Kind, SeenColour? Colour = null, RdmReport? Report = null)
{
    /// <summary>It gives no light.</summary>
    public static Seen Dark { get; } = new(SeenKind.Dark);

    /// <summary>It gives light.</summary>
    public static Seen Lit { get; } = new(SeenKind.Lit);

    /// <summary>They could not tell.</summary>
    public static Seen Unsure { get; } = new(SeenKind.Unsure);

    /// <summary>The words, as a notes file has them.</summary>
    public override string ToString() => SeenWords.Text(this);
}
