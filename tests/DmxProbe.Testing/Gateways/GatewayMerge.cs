namespace DmxProbe.Testing.Gateways;

/// <summary>How a simulated gateway merges.</summary>
public enum GatewayMerge
{
    /// <summary>Highest priority, then highest value.</summary>
    Priority,

    /// <summary>Highest value of each slot.</summary>
    Htp,

    /// <summary>Each slot by its latest change.</summary>
    Ltp,

    /// <summary>Whole packets as they come.</summary>
    Flicker,
}
