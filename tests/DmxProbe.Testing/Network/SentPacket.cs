using DmxProbe.Analysis.Decoding;

namespace DmxProbe.Testing.Network;

/// <summary>A packet as it left its sender.</summary>
/// <param name="Time">Nanoseconds since the start of the simulation.</param>
/// <param name="Sender">Who sent it (<see cref="SimulatedSender.Name"/>).</param>
/// <param name="Kind">What it is for.</param>
/// <param name="Reason">Why it was sent now.</param>
/// <param name="Universe">The universe it belongs to; meaningless for polls and replies.</param>
/// <param name="Sequence">Its sequence number.</param>
/// <param name="Index">
/// Number of the packet among those that share its sequence count (universe and sender), from 0; the two instances of a
/// dual-stack packet share it.
/// </param>
/// <param name="Frame">The Ethernet frame.</param>
public sealed record SentPacket(
    long Time,
    string Sender,
    PacketKind Kind,
    SendReason Reason,
    UniverseId Universe,
    int Sequence,
    long Index,
    byte[] Frame)
{
    /// <summary>True for kinds that share the sequence count of their universe.</summary>
    public bool CountsInSequence => Kind is PacketKind.Levels or PacketKind.Alternate or PacketKind.Termination;
}
