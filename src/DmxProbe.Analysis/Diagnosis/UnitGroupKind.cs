namespace DmxProbe.Analysis.Diagnosis;

/// <summary>By what bad units may belong together.</summary>
public enum UnitGroupKind
{
    /// <summary>All behind one place of a cable chain.</summary>
    ChainTail,

    /// <summary>All of one cable chain.</summary>
    Chain,

    /// <summary>All above one address of a universe.</summary>
    HighSlots,

    /// <summary>All on one universe.</summary>
    Universe,

    /// <summary>All of one type and mode.</summary>
    Model,

    /// <summary>All on one mains circuit.</summary>
    Circuit,

    /// <summary>All on one radio link.</summary>
    Wireless,

    /// <summary>All at one position.</summary>
    Position,
}
