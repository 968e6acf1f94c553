namespace DmxProbe.Tui;

/// <summary>The views.</summary>
internal enum ScreenView
{
    /// <summary>All universes, the ones in trouble first.</summary>
    Rig,

    /// <summary>One universe, slot by slot.</summary>
    Universe,

    /// <summary>What was found, with the evidence.</summary>
    Findings,
}
