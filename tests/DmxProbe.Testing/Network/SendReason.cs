namespace DmxProbe.Testing.Network;

/// <summary>Why a sender sent a packet at this moment.</summary>
public enum SendReason
{
    /// <summary>A level or the priority changed, or it is the first packet.</summary>
    Change,

    /// <summary>One of the repeats after a change.</summary>
    Repeat,

    /// <summary>Nothing changed for long: so that nobody thinks the sender lost.</summary>
    KeepAlive,

    /// <summary>The sender sends at a constant rate whether anything changed or not.</summary>
    ConstantRate,

    /// <summary>Not levels: another START code, termination, synchronization, discovery, poll, reply.</summary>
    Other,
}
