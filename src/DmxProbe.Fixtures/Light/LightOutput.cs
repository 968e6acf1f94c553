namespace DmxProbe.Fixtures.Light;

/// <summary>Light expected from a fixture, linear, 1 = full of that channel; before any response curve.</summary>
/// <param name="Red">Red part, 0 to 1.</param>
/// <param name="Green">Green part, 0 to 1.</param>
/// <param name="Blue">Blue part, 0 to 1.</param>
/// <param name="Predictable">False while a programme, sound mode, strobe or an unknown range decides: such spans carry no weight.</param>
public readonly record struct LightOutput(float Red, float Green, float Blue, bool Predictable)
{
    /// <summary>Sum of the three parts over 3: the luminance that the locating inference works with.</summary>
    public float Luminance => (Red + Green + Blue) / 3f;
}
