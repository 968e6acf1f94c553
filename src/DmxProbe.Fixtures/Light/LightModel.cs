using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.Light;

/// <summary>
/// Turns the slots of one mode into the light expected: intensity x shutter x colour mix. Compiled once per mode;
/// <see cref="Predict"/> allocates nothing.
/// </summary>
public sealed class LightModel
{
    /// <summary>Compiles the model of a mode.</summary>
    public LightModel(ChartMode mode) => Mode = mode;

    /// <summary>The mode it was compiled from.</summary>
    public ChartMode Mode { get; }

    /// <summary>Predicts the light.</summary>
    /// <param name="slots">The slots from the start address on, at least the mode's footprint long; what is missing counts as not sent (0).</param>
    /// <returns>The light expected.</returns>
    public LightOutput Predict(ReadOnlySpan<byte> slots)
    {
        // The fixtures branch brings the model.
        return slots.Length < Mode.Footprint ? default : new LightOutput(0, 0, 0, false);
    }
}
