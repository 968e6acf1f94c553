namespace DmxProbe.Analysis.Arbitration;

/// <summary>Of which receiver an answer speaks, where the standards leave receivers a choice.</summary>
public enum WinCondition
{
    /// <summary>Every conforming receiver.</summary>
    Always,

    /// <summary>
    /// One that decides slot by slot: by per-address priority (START code DDh) where a source sends it, else by the
    /// packets' priority among those that send the slot. A convention beside E1.31.
    /// </summary>
    SlotBySlot,

    /// <summary>One that takes the universe of the highest packet priority as a whole (E1.31-2018 section 6.2.3).</summary>
    WholeUniverse,

    /// <summary>A node that merges by highest value (Art-Net 4, 1.4dn, page 76).</summary>
    HighestValue,

    /// <summary>A node that merges by latest value (Art-Net 4, 1.4dn, page 76).</summary>
    LatestValue,

    /// <summary>One without universe synchronization: it acts at once where others hold (E1.31-2018 section 6.2.4.1).</summary>
    WithoutSynchronization,
}
