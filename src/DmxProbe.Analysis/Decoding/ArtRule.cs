namespace DmxProbe.Analysis.Decoding;

/// <summary>Rules of Art-Net 4 (document 1.4dn) that a readable packet can break. The comment of each says what the event's B holds.</summary>
public enum ArtRule
{
    /// <summary>Protocol version below 14 (B): controllers should ignore such devices.</summary>
    Version,

    /// <summary>Bit 7 of Net is set, which no Port-Address has (page 20). B = Net.</summary>
    NetBit7,

    /// <summary>ArtNzs with a START code that may not travel in it: 0 or that of RDM (page 80). B = START code.</summary>
    NzsStartCode,

    /// <summary>ArtSync to one receiver; it is broadcast, never unicast (pages 77 to 79). B = IPv4 address it went to.</summary>
    SyncUnicast,

    /// <summary>ArtPollReply that states another address (B, IPv4) than it came from (pages 36 to 44).</summary>
    ReplyAddress,

    /// <summary>ArtPollReply that states more than four ports (B); more take several replies (pages 36 to 44).</summary>
    ReplyPorts,

    /// <summary>ArtTodData or ArtRdm to everybody (pages 98 and 103). B = the OpCode.</summary>
    RdmBroadcast,
}
