namespace DmxProbe.Analysis.Locate.Together;

/// <summary>What several units have in common.</summary>
public enum RowFindingKind
{
    /// <summary>From one unit on everything is shifted by the same number of slots.</summary>
    ShiftedFrom,

    /// <summary>All units are shifted by the same number of slots.</summary>
    ShiftedAll,

    /// <summary>All units, or all from one on, read another universe.</summary>
    OtherUniverse,

    /// <summary>Units that read the same start address.</summary>
    Twins,

    /// <summary>Two units that have each other's address.</summary>
    Swapped,

    /// <summary>Units whose light cannot be told apart.</summary>
    Alike,
}
