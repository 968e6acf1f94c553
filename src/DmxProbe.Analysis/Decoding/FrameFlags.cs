namespace DmxProbe.Analysis.Decoding;

/// <summary>What else a packet said about its frame.</summary>
[Flags]
public enum FrameFlags
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>The sender counts its packets (sACN always; Art-Net when the sequence is not 0).</summary>
    SequenceCounted = 1,

    /// <summary>Preview_Data: not for live output (E1.31-2018 section 6.2.6).</summary>
    Preview = 2,

    /// <summary>Stream_Terminated: ends the stream; its slots are not levels (E1.31-2018 section 6.2.6).</summary>
    Terminated = 4,

    /// <summary>Force_Synchronization (E1.31-2018 section 6.2.6).</summary>
    ForceSynchronization = 8,

    /// <summary>Sent in the layout of the draft before E1.31 was ratified.</summary>
    Draft = 16,

    /// <summary>Came over IPv6.</summary>
    Ipv6 = 32,

    /// <summary>The capture's snap length cut the slots: those present are right, the rest is unknown.</summary>
    SlotsCut = 64,

    /// <summary>Characters of it had framing errors, or were lost on the way: it counts as a frame, its slots are not levels.</summary>
    Damaged = 128,

    /// <summary>Went to one receiver only.</summary>
    Unicast = 256,

    /// <summary>Went to every host of the network.</summary>
    Broadcast = 512,

    /// <summary>Came from or went to another UDP port than the protocol's.</summary>
    OtherPort = 1024,
}
