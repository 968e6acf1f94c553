namespace DmxProbe.Analysis.Decoding;

/// <summary>What a <see cref="LinkEvent"/> tells. The comment of each says what A and B hold.</summary>
public enum LinkEventKind
{
    /// <summary>The capture lost records. A = how many; B = 1 where a loss record says it: nobody knows what came meanwhile.</summary>
    CaptureLoss,

    /// <summary>A packet's bytes contradict its own layout. A = <see cref="DmxProbe.Protocols.Wire.WireErrorKind"/>, B = octet of the UDP payload.</summary>
    Malformed,

    /// <summary>The snap length cut a packet before its fields could be read; not the sender's fault.</summary>
    CutBySnapLength,

    /// <summary>A fragment of an IP datagram to or from a lighting port.</summary>
    Fragment,

    /// <summary>ArtPoll. A = IPv4 address it came from.</summary>
    ArtPoll,

    /// <summary>ArtPollReply. A = octets of the reply, B = UDP port it states.</summary>
    ArtPollReply,

    /// <summary>ArtSync. A = IPv4 address that sent it, as a number; 0 where it has none.</summary>
    ArtSync,

    /// <summary>An Art-Net packet that breaks a rule without being unreadable. A = <see cref="ArtRule"/>, B = value found.</summary>
    ArtRule,

    /// <summary>A device was programmed from afar. A = OpCode (ArtAddress, ArtInput, ArtIpProg) times 2^40 + command times 2^32 + IPv4 address it went to.</summary>
    ArtProgramming,

    /// <summary>ArtTimeCode, beside its <see cref="ArtOther"/>. A = hours times 2^24 + minutes times 2^16 + seconds times 2^8 + frames, B = type.</summary>
    ArtTimeCode,

    /// <summary>Another Art-Net packet. A = OpCode.</summary>
    ArtOther,

    /// <summary>An ArtDmx or ArtNzs Length that the rules do not allow (odd, 0, over 512) or that the datagram does not hold. A = Length, B = octets of slots present.</summary>
    ArtLengthOdd,

    /// <summary>sACN synchronization packet. A = synchronization address, B = sequence number.</summary>
    SacnSync,

    /// <summary>sACN universe discovery page. A = page, B = last page.</summary>
    SacnDiscovery,

    /// <summary>An sACN packet that breaks a rule without being unreadable. A = <see cref="SacnRule"/>, B = value found.</summary>
    SacnRule,

    /// <summary>The second instance of a packet that a sender sent over IPv4 and IPv6 (E1.31-2018 section 9.1): counted once.</summary>
    SecondInstance,

    /// <summary>Octets from a serial port that are no part of a message or packet. A = how many.</summary>
    SerialGarbage,

    /// <summary>A serial port lost characters; the packet they were in is left out. A = its octets so far.</summary>
    SerialOverrun,

    /// <summary>A character with a framing error. A = its place in the packet (0 = START code, 1 = slot 1), B = its value.</summary>
    SlotFramingError,

    /// <summary>A packet longer than 512 slots. A = octets beyond.</summary>
    SlotsOver512,

    /// <summary>A break with no character behind it.</summary>
    EmptyBreak,

    /// <summary>A framed interface says that it lost octets of a packet. A = its status octet.</summary>
    FramedDamage,

    /// <summary>A framed message that carries no DMX. A = label, B = octets of its payload.</summary>
    FramedOther,

    /// <summary>A change-of-state message came before any whole packet, so the other slots are not known.</summary>
    ChangeWithoutPacket,

    /// <summary>Characters on a line without a break before them, and no answer to discovery. A = how many.</summary>
    LineStrayCharacters,

    /// <summary>An RDM packet on a line whose length or checksum is wrong. A = <see cref="DmxProbe.Protocols.Wire.WireErrorKind"/>, 0 for the checksum.</summary>
    RdmDamaged,

    /// <summary>An answer to DISC_UNIQUE_BRANCH. A = the UID.</summary>
    RdmDiscoveryReply,

    /// <summary>Several answers to DISC_UNIQUE_BRANCH at once, or a damaged one: normal in discovery. A = characters.</summary>
    RdmDiscoveryCollision,

    /// <summary>
    /// What an output of a node says in ArtPollReply, on its Port-Address. A = 1 where it merges by latest value, B = IPv4
    /// address x 1024 + BindIndex x 4 + port.
    /// </summary>
    ArtOutput,

    /// <summary>A command of ArtAddress about merging. A = the command, B = IPv4 address of the node x 256 + BindIndex.</summary>
    ArtMergeCommand,
}
