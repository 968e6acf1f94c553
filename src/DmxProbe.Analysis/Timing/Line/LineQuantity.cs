namespace DmxProbe.Analysis.Timing.Line;

/// <summary>What is measured on a line, in the order in which it is told.</summary>
public enum LineQuantity
{
    /// <summary>Break.</summary>
    Break,

    /// <summary>Mark after break.</summary>
    MarkAfterBreak,

    /// <summary>Eleven bits.</summary>
    SlotTime,

    /// <summary>One bit.</summary>
    BitTime,

    /// <summary>Single low bit less single high bit.</summary>
    BitSkew,

    /// <summary>Greatest mark between two slots of a packet.</summary>
    InterSlot,

    /// <summary>Mean mark between the slots of a packet.</summary>
    InterSlotMean,

    /// <summary>Mark from the last slot to the next break.</summary>
    MarkBeforeBreak,

    /// <summary>From break to break.</summary>
    BreakToBreak,

    /// <summary>From the start of the break to the end of the last slot.</summary>
    PacketTime,

    /// <summary>From one packet of levels to the next.</summary>
    Silence,

    /// <summary>Slots after the START code.</summary>
    SlotCount,

    /// <summary>From the end of an RDM request to the start of its answer.</summary>
    Turnaround,

    /// <summary>From a request that got no answer to the next.</summary>
    SpacingAfterNoAnswer,

    /// <summary>From DISC_UNIQUE_BRANCH that got no answer to the next request.</summary>
    SpacingAfterDiscovery,

    /// <summary>From a request that wants no answer to the next.</summary>
    SpacingAfterBroadcast,
}
