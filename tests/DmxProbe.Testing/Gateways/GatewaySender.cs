using DmxProbe.Testing.Network;

namespace DmxProbe.Testing.Gateways;

/// <summary>A sender of sACN in front of a simulated gateway. Times in ns since the start.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Universe">sACN universe.</param>
/// <param name="Priority">Priority.</param>
/// <param name="Levels">What it plays.</param>
public sealed record GatewaySender(string Name, int Universe, int Priority, LevelSource Levels)
{
    /// <summary>Distance of its packets.</summary>
    public long Tick { get; init; } = StreamPlan.Tick44;

    /// <summary>First packet.</summary>
    public long Start { get; init; } = 3_000_000;

    /// <summary>It is silent from here...</summary>
    public long SilentFrom { get; init; } = long.MaxValue;

    /// <summary>... to here.</summary>
    public long SilentTo { get; init; } = long.MaxValue;
}
