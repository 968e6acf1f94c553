using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Network;

/// <summary>One Port-Address that an <see cref="ArtNetController"/> sends.</summary>
public sealed record ArtNetOutput : StreamPlan
{
    /// <summary>Port-Address, 0 to 32767.</summary>
    public required int PortAddress { get; init; }

    /// <summary>The node it is unicast to; null to broadcast, as senders of old editions do.</summary>
    public Host? To { get; init; }

    /// <summary>Physical input port, part of what makes a sender.</summary>
    public int Physical { get; init; }

    /// <summary>False to send sequence 0, "not counted".</summary>
    public bool Counted { get; init; } = true;

    /// <summary>Sequence number of the first packet where counted.</summary>
    public int FirstSequence { get; init; } = 1;
}
