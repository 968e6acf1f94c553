namespace DmxProbe.Analysis.Arbitration;

/// <summary>What is ordered about merging.</summary>
internal enum MergeOrderKind
{
    /// <summary>Nothing that bears on it.</summary>
    Other,

    /// <summary>The merge ends: the sender of the next ArtDmx has sole control.</summary>
    Cancel,

    /// <summary>Merge by latest value.</summary>
    Latest,

    /// <summary>Merge by highest value.</summary>
    Highest,
}
