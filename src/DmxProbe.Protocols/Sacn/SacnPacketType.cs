namespace DmxProbe.Protocols.Sacn;

/// <summary>What an ACN packet is by its root and framing vectors.</summary>
public enum SacnPacketType
{
    /// <summary>Vectors that no known layout has: receivers discard the packet (E1.31-2018 sections 5.5, 6.5).</summary>
    Unknown,

    /// <summary>Levels or other slots: <see cref="SacnDataPacket"/>.</summary>
    Data,

    /// <summary>Act now: <see cref="SacnSyncPacket"/>.</summary>
    Synchronization,

    /// <summary>List of universes sent: <see cref="SacnDiscoveryPacket"/>.</summary>
    UniverseDiscovery,

    /// <summary>Data in the layout of the draft before ratification: <see cref="SacnDraftPacket"/>.</summary>
    Draft,

    /// <summary>A secured variant whose content is not decoded.</summary>
    Secured,
}
