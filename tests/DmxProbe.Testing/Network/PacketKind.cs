namespace DmxProbe.Testing.Network;

/// <summary>What a simulated packet is for.</summary>
public enum PacketKind
{
    /// <summary>Levels (START code 0).</summary>
    Levels,

    /// <summary>Another START code.</summary>
    Alternate,

    /// <summary>A packet with Stream_Terminated.</summary>
    Termination,

    /// <summary>sACN or Art-Net synchronization.</summary>
    Sync,

    /// <summary>sACN universe discovery.</summary>
    Discovery,

    /// <summary>ArtPoll.</summary>
    Poll,

    /// <summary>ArtPollReply.</summary>
    Reply,
}
