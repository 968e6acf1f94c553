namespace DmxProbe.Testing.Gateways;

/// <summary>The freezes that are planted into a simulated wireless link to be found.</summary>
public static class PlantedLink
{
    private const long Second = 1_000_000_000;

    /// <summary>Each freeze: when it begins, in ns since the start, and how long it lasts.</summary>
    public static IReadOnlyList<(long From, long Length)> Freezes { get; } =
    [
        (3 * Second, 160_000_000), (7_130_000_000, 240_000_000), (12 * Second, 640_000_000), (18_777_000_000, 320_000_000),
        (25 * Second, 200_000_000), (33_333_000_000, 450_000_000), (41 * Second, 510_000_000),
    ];
}
