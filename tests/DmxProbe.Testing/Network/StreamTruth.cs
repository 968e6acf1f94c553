using DmxProbe.Analysis.Decoding;
using DmxProbe.Protocols.Records;

namespace DmxProbe.Testing.Network;

/// <summary>
/// What really became of one universe of one sender, known from the simulation and not from the bytes: all packets that
/// share the sequence count (levels, other START codes, termination). The two instances of a dual-stack packet count once.
/// </summary>
public sealed record StreamTruth
{
    /// <summary>The universe.</summary>
    public required UniverseId Universe { get; init; }

    /// <summary>The sender's name.</summary>
    public required string Sender { get; init; }

    /// <summary>Packets sent.</summary>
    public required long Sent { get; init; }

    /// <summary>Packets sent of which nothing arrived.</summary>
    public required long Lost { get; init; }

    /// <summary>
    /// Those of <see cref="Lost"/> sent after the first and before the last that arrived: what a receiver can know.
    /// </summary>
    public required long LostBetween { get; init; }

    /// <summary>Copies that the network made and that arrived beside the packet.</summary>
    public required long Duplicated { get; init; }

    /// <summary>Packets that arrived after one that was sent later.</summary>
    public required long Late { get; init; }

    /// <summary>Packets of levels (START code 0) that arrived, copies and second instances not counted.</summary>
    public required long LevelsArrived { get; init; }

    /// <summary>Packets of levels sent because something changed.</summary>
    public required long Changes { get; init; }

    /// <summary>Arrival of the first packet.</summary>
    public required Timestamp FirstArrival { get; init; }

    /// <summary>Arrival of the last packet.</summary>
    public required Timestamp LastArrival { get; init; }
}
