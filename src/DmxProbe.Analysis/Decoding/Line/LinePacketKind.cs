namespace DmxProbe.Analysis.Decoding.Line;

/// <summary>What a packet on a line was, as far as its limits depend on it.</summary>
public enum LinePacketKind
{
    /// <summary>START code 00h: levels.</summary>
    Levels,

    /// <summary>START code 55h: test packet.</summary>
    Test,

    /// <summary>RDM from a controller.</summary>
    RdmRequest,

    /// <summary>RDM from a responder.</summary>
    RdmResponse,

    /// <summary>Answer to DISC_UNIQUE_BRANCH: no break, no START code, no frame.</summary>
    DiscoveryReply,

    /// <summary>Any other START code.</summary>
    Other,
}
