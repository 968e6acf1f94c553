namespace DmxProbe.Analysis.Decoding;

/// <summary>Rules of E1.31-2018 that a readable sACN packet can break.</summary>
public enum SacnRule
{
    /// <summary>Flags and length fields count from their own first octet to the end (sections 5.4, 6.1, 7.1).</summary>
    FlagsAndLength,

    /// <summary>Priority over 200 shall not be sent (section 6.2.3).</summary>
    Priority,

    /// <summary>Universes are 1 to 63999 (section 9.1.1).</summary>
    Universe,

    /// <summary>The source name ends with a zero octet (section 6.2.2).</summary>
    SourceName,

    /// <summary>The group a packet is sent to follows from its universe (section 9.3).</summary>
    Group,

    /// <summary>
    /// Preamble, post-amble or a DMP layer field differs from its only allowed value (sections 5.1, 5.2, 7.2 to 7.5):
    /// receivers discard the packet. The value is the octet at which the field starts.
    /// </summary>
    Discarded,

    /// <summary>Root or framing vector is not one of those defined (sections 5.5, 6.5): receivers discard the packet.</summary>
    Vector,

    /// <summary>Synchronization address 0 shall not be sent in a synchronization packet (section 6.3.3.1).</summary>
    SyncAddress,
}
