namespace DmxProbe.Testing.Rigs;

/// <summary>What takes the readings of a rig.</summary>
public enum RigSensor
{
    /// <summary>A sensor, 30 readings a second on the grid of the histories.</summary>
    Meter,

    /// <summary>A phone: its own picture rate and moments, dropped pictures, an exposure that follows the scene.</summary>
    Phone,

    /// <summary>The same as pictures of 8 bits, measured by the code that measures a video (without its file's compression).</summary>
    Video,
}
