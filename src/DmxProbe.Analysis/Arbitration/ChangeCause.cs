namespace DmxProbe.Analysis.Arbitration;

/// <summary>What made the sender of a slot, or its level, change.</summary>
public enum ChangeCause
{
    /// <summary>A sender came.</summary>
    SenderAppeared,

    /// <summary>A sender was silent for its protocol's time: 2.5 s in sACN (E1.31-2018 6.7.1), 10 s in an Art-Net merge (page 77).</summary>
    SenderLost,

    /// <summary>A sender ended its stream (Stream_Terminated, E1.31-2018 6.2.6).</summary>
    SenderEnded,

    /// <summary>A sender changed its packet priority.</summary>
    PriorityChanged,

    /// <summary>A sender began or changed per-address priorities.</summary>
    AddressPriorityChanged,

    /// <summary>Per-address priorities stopped for 2.5 s: the packet priority counts again.</summary>
    AddressPriorityLost,

    /// <summary>A sender changed how many slots it sends.</summary>
    SlotCountChanged,

    /// <summary>A level changed.</summary>
    LevelChanged,

    /// <summary>A merge was cancelled by ArtAddress (AcCancelMerge).</summary>
    MergeCancelled,

    /// <summary>The node was told another merge mode, or reported one.</summary>
    MergeModeChanged,

    /// <summary>A synchronization packet let held levels through.</summary>
    Synchronized,
}
