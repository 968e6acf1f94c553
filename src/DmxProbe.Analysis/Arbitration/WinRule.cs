namespace DmxProbe.Analysis.Arbitration;

/// <summary>Why a slot comes from whom it comes from.</summary>
public enum WinRule
{
    /// <summary>Nobody sends the universe: every sender is lost or has terminated (E1.31-2018 6.7.1; Art-Net 4 page 77).</summary>
    Nobody,

    /// <summary>One sender is there, and no other.</summary>
    OnlySender,

    /// <summary>Of several Art-Net senders the one in sole control since a merge was cancelled: it was the next to send (AcCancelMerge, Art-Net 4 page 50).</summary>
    MergeCancelled,

    /// <summary>Of several Art-Net senders the one left of a merge: its partner failed and the 10 s are over, and no further sender has sent since (Art-Net 4 pages 76 and 77).</summary>
    PartnerLost,

    /// <summary>The highest packet priority (E1.31-2018 6.2.3).</summary>
    HigherPriority,

    /// <summary>The highest per-address priority of this slot (START code DDh, a convention).</summary>
    AddressPriority,

    /// <summary>Of those that could decide only this one sources the slot: the others send fewer slots, or say 0 for it.</summary>
    OnlySourced,

    /// <summary>Several with the same claim: the receiver's own choice (E1.31-2018 6.2.3.1 to 6.2.3.6).</summary>
    EqualPriority,

    /// <summary>A per-address priority over 200, which is reserved: what a receiver makes of it is not known.</summary>
    ReservedPriority,

    /// <summary>The highest value of the slot in an Art-Net merge (Art-Net 4 page 76).</summary>
    HighestValue,

    /// <summary>Both senders of an Art-Net merge send the same highest value.</summary>
    EqualValue,

    /// <summary>The sender that changed the slot last in an Art-Net merge by latest value.</summary>
    LatestChange,

    /// <summary>The senders in charge do not send this slot: their packets are shorter.</summary>
    NotSent,

    /// <summary>Every sender says per-address priority 0: nobody sources the slot, which then is 0.</summary>
    NotSourced,

    /// <summary>More combinations of senders than are kept apart.</summary>
    NotListed,
}
