namespace DmxProbe.Analysis.Network;

/// <summary>Why the same packet is in a capture again.</summary>
public enum RepeatKind
{
    /// <summary>One packet, captured twice on one interface: a mirror of both directions of a port.</summary>
    Mirrored,

    /// <summary>One packet, captured on two interfaces.</summary>
    OtherInterface,

    /// <summary>One packet, captured in two VLANs, or with and without its tag.</summary>
    OtherVlan,

    /// <summary>One packet, captured before and behind a router.</summary>
    Routed,

    /// <summary>Sent twice: another identification of the IP packet with the same content.</summary>
    SentTwice,

    /// <summary>Sent from two addresses by one sender: two network interfaces in one network.</summary>
    TwoAddresses,

    /// <summary>Sent or captured twice: the sender leaves the identification 0, which would tell.</summary>
    Undecided,
}
