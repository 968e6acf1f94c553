namespace DmxProbe.Analysis.Timing.Line;

/// <summary>Whose limits a line is held against.</summary>
public enum LineRole
{
    /// <summary>What a transmitter may send, and beside it what a receiver must accept.</summary>
    Transmitter,

    /// <summary>Only what a receiver must accept.</summary>
    Receiver,

    /// <summary>The test packet, START code 55h.</summary>
    TestPacket,

    /// <summary>RDM packets of a controller.</summary>
    RdmController,

    /// <summary>RDM packets of a responder.</summary>
    RdmResponder,
}
