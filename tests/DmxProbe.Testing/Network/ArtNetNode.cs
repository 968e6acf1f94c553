using System.Net;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Network;

/// <summary>A gateway that answers each ArtPoll after a random delay of up to 1 s (standards-facts C5).</summary>
/// <param name="name">What the truth calls it.</param>
/// <param name="host">Its addresses.</param>
/// <param name="reply">What its reply says; the address is set from <paramref name="host"/>.</param>
public sealed class ArtNetNode(string name, Host host, ArtPollReplyFields reply) : SimulatedSender(name, host)
{
    /// <summary>Where replies go as broadcast, as in editions up to 1.4dd; null to unicast to who polled.</summary>
    public IPAddress? Broadcast { get; init; }

    /// <summary>The machines that poll, to find the address to answer to.</summary>
    public required IReadOnlyList<SimulatedSender> Pollers { get; init; }

    /// <inheritdoc/>
    public override IEnumerable<SentPacket> Send(SeededRandom random, long until) => [];

    /// <inheritdoc/>
    public override IEnumerable<SentPacket> Answer(IReadOnlyList<SentPacket> heard, SeededRandom random, long until)
    {
        byte[] payload = ArtNetPackets.PollReply(reply with { Address = Host.Ipv4, Mac = Host.Mac });
        foreach (SentPacket poll in heard.Where(p => p.Kind == PacketKind.Poll))
        {
            long time = poll.Time + random.Next(3_000_000, 1_000_000_000);
            Host poller = Pollers.First(p => p.Name == poll.Sender).Host;
            UdpPath path = Broadcast is null
                ? UdpPath.Unicast(Host, poller, ArtNetPackets.Port)
                : UdpPath.Broadcast(Host, Broadcast, ArtNetPackets.Port);
            if (time < until)
            {
                yield return new(
                    time, Name, PacketKind.Reply, SendReason.Other, default, 0, 0, UdpFrames.Build(path, payload));
            }
        }
    }
}
