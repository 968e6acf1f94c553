namespace DmxProbe.Analysis.Explain;

/// <summary>What a unit should be doing by the slots it is sent.</summary>
public enum UnitState
{
    /// <summary>Nobody sends its universe, or not as many slots.</summary>
    NotSent,

    /// <summary>No light.</summary>
    Dark,

    /// <summary>The unit gives no light at all, as far as its chart says: fog, a motor, a relay.</summary>
    NoLight,

    /// <summary>Steady light.</summary>
    Lit,

    /// <summary>Light that flashes.</summary>
    Flashing,

    /// <summary>A programme, a reset or a range that is not understood decides.</summary>
    NotPredictable,
}
