namespace DmxProbe.Analysis.Arbitration;

/// <summary>Whether a receiver that knows synchronization holds a universe.</summary>
public enum SyncState
{
    /// <summary>It acts on each packet at once.</summary>
    None,

    /// <summary>It holds until the next synchronization packet.</summary>
    Held,

    /// <summary>
    /// It has held for longer than the synchronization's time-out with Force_Synchronization 0: it stays as it is until
    /// synchronization resumes, though levels arrive (E1.31-2018 6.2.6, 11.1.2).
    /// </summary>
    Frozen,
}
