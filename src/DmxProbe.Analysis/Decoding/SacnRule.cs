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

    /// <summary>Option bits 0 to 4 are sent as 0 (section 6.2.6). The value is the octet.</summary>
    Options,

    /// <summary>Reserved octets of a synchronization or discovery packet are sent as 0 (sections 6.3.4, 6.4.3).</summary>
    Reserved,

    /// <summary>The source name is UTF-8 (section 6.2.2).</summary>
    NameText,

    /// <summary>Multicast goes to UDP port 5568 (section 9.1.1). The value is the port.</summary>
    Port,

    /// <summary>Sent to a broadcast address, which the standard does not describe (section 9). The value is the universe.</summary>
    Broadcast,

    /// <summary>Sent to an IPv6 group built from the running text of section 9.3.2 instead of Table 9-12. The value is the universe meant.</summary>
    MisreadGroup,

    /// <summary>The universes of a discovery page are sorted (section 8.5).</summary>
    ListOrder,

    /// <summary>Pages are numbered from 0 to the last page (sections 8.3, 8.4). The value is the page.</summary>
    Page,

    /// <summary>A discovery list holds universes that may carry data (sections 8.5, 9.1.1). The value is the universe.</summary>
    ListedUniverse,
}
