namespace DmxProbe.Fixtures.Light;

/// <summary>How much of each part one emitter at full gives.</summary>
internal readonly record struct EmitterMix(float Red, float Green, float Blue)
{
    // Simulation conventions, invented: no standard fixes them and emitters differ by maker. A white emitter gives its
    // light to the three parts alike; amber is red with some green. They stay below 1 so that a mix with red, green
    // and blue is not clamped, and so blind to changes, as soon as the white comes in.
    private const float WhiteShare = 0.5f;
    private const float AmberRed = 0.5f;
    private const float AmberGreen = 0.25f;

    public static EmitterMix OfRed => new(1, 0, 0);

    public static EmitterMix OfGreen => new(0, 1, 0);

    public static EmitterMix OfBlue => new(0, 0, 1);

    public static EmitterMix OfWhite => new(WhiteShare, WhiteShare, WhiteShare);

    public static EmitterMix OfAmber => new(AmberRed, AmberGreen, 0);

    public EmitterMix Over(int count) => new(Red / count, Green / count, Blue / count);
}
