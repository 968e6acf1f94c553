namespace DmxProbe.Tui;

/// <summary>The views.</summary>
internal enum ScreenView
{
    /// <summary>All universes, the ones in trouble first.</summary>
    Rig,

    /// <summary>One universe, slot by slot.</summary>
    Universe,

    /// <summary>One unit: what it should be doing.</summary>
    Unit,

    /// <summary>Measured against the limits.</summary>
    Timing,

    /// <summary>What was found, with the evidence.</summary>
    Findings,

    /// <summary>The guided questions: what a light that does not follow is really reading.</summary>
    Locate,

    /// <summary>The guided function check.</summary>
    Walk,

    /// <summary>Every key.</summary>
    Keys,
}
