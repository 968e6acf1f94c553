using DmxProbe.Fixtures.Charts;

namespace DmxProbe.Fixtures.FixtureJson;

/// <summary>A channel of the file.</summary>
internal sealed class JsonChannel
{
    /// <summary>Its name in the lists of the modes.</summary>
    public required string Key { get; init; }

    /// <summary>The pixel it belongs to; empty for the whole fixture.</summary>
    public string Pixel { get; init; } = "";

    /// <summary>Names of its low bytes, the more significant first.</summary>
    public required IReadOnlyList<string> Fine { get; init; }

    /// <summary>Bytes in which its values are written, 1 to 4.</summary>
    public required int Bytes { get; init; }

    /// <summary>The value before anybody touches it, 0 to 255 of the high byte; null when it is not said.</summary>
    public int? Default { get; init; }

    public required SlotRole Role { get; init; }

    /// <summary>Its capabilities; they cover all values once.</summary>
    public required IReadOnlyList<JsonCapability> Capabilities { get; init; }
}
