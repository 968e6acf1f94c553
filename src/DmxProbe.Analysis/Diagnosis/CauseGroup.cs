namespace DmxProbe.Analysis.Diagnosis;

/// <summary>Where in the rig a cause sits.</summary>
public enum CauseGroup
{
    /// <summary>Start address and patch sheet.</summary>
    Addressing,

    /// <summary>Mode of a unit and its chart.</summary>
    Mode,

    /// <summary>What the unit is told by its slots, or does by itself.</summary>
    UnitState,

    /// <summary>Cable, connectors, electrical.</summary>
    Cable,

    /// <summary>Timing and form of the DMX512 signal.</summary>
    LineTiming,

    /// <summary>Network, senders, switches.</summary>
    Network,

    /// <summary>Between two places that were captured together: gateway, splitter, radio, switch, cable.</summary>
    Link,

    /// <summary>Radio links.</summary>
    Wireless,

    /// <summary>Mains, mechanics.</summary>
    Power,

    /// <summary>The capture itself: what it lost or could not hear.</summary>
    Capture,
}
