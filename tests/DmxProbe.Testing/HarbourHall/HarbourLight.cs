namespace DmxProbe.Testing.HarbourHall;

/// <summary>
/// The light that a unit really gives for its slots; written apart from the light model in src, with emitters that are
/// a little different from what that model assumes, as those of real lights are.
/// </summary>
public static class HarbourLight
{
    private static readonly (string Function, Rgb Mix)[] s_emitters =
    [
        ("Red", new Rgb(1, 0.02, 0)),
        ("Green", new Rgb(0.03, 0.95, 0.02)),
        ("Blue", new Rgb(0, 0.04, 1.05)),
        ("White", new Rgb(0.52, 0.50, 0.45)),
        ("Amber", new Rgb(0.55, 0.22, 0)),
    ];

    /// <summary>The light, before LED response and lag.</summary>
    /// <param name="mode">The mode the unit is in.</param>
    /// <param name="slots">Slots from the address it reads.</param>
    public static Rgb Of(RigMode mode, ReadOnlySpan<byte> slots)
    {
        int shutter = mode.IndexOf("Shutter");
        if (shutter >= 0 && slots[shutter] is >= 10 and < 240)
        {
            return default;
        }

        int dimmer = mode.IndexOf("Dimmer");
        double level = dimmer < 0 ? 1 : slots[dimmer] / 255.0;
        Rgb mix = default;
        bool coloured = false;
        foreach ((string function, Rgb emitter) in s_emitters)
        {
            int slot = mode.IndexOf(function);
            if (slot >= 0)
            {
                coloured = true;
                mix += emitter * (slots[slot] / 255.0);
            }
        }

        return (coloured ? mix : new Rgb(1, 1, 1)) * level;
    }
}
