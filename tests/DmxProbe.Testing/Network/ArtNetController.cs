using System.Net;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Network;

/// <summary>An Art-Net controller: ArtDmx with sequence 1 to 255, and ArtPoll every 2.5 to 3 s (standards-facts C5).</summary>
/// <param name="name">What the truth calls it.</param>
/// <param name="host">Its addresses.</param>
public sealed class ArtNetController(string name, Host host) : SimulatedSender(name, host)
{
    private const long BetweenOutputs = 80_000;

    /// <summary>The Port-Addresses it sends.</summary>
    public IReadOnlyList<ArtNetOutput> Outputs { get; init; } = [];

    /// <summary>True to look for nodes.</summary>
    public bool Polls { get; init; } = true;

    /// <summary>True to send an ArtSync after each bunch of ArtDmx.</summary>
    public bool Syncs { get; init; }

    /// <summary>The directed broadcast address of its network.</summary>
    public IPAddress Broadcast { get; init; } = new([10, 255, 255, 255]);

    /// <inheritdoc/>
    public override IEnumerable<SentPacket> Send(SeededRandom random, long until)
    {
        long phase = random.Next(0, 20_000_000);
        List<SentPacket> packets = [];
        foreach ((int index, ArtNetOutput output) in Outputs.Index())
        {
            SeededRandom own = SeededRandom.For(random.NextBits(), (ulong)output.PortAddress);
            packets.AddRange(SendOutput(output, own, phase + (index * BetweenOutputs), until));
        }

        if (Syncs)
        {
            packets.AddRange(SendSync([.. packets.OrderBy(p => p.Time)]));
        }

        for (long time = random.Next(50_000_000, 1_000_000_000); Polls && time < until;
            time += random.Next(2_500_000_000, 3_000_000_000))
        {
            packets.Add(ToAll(time, PacketKind.Poll, ArtNetPackets.Poll()));
        }

        return packets;
    }

    private IEnumerable<SentPacket> SendOutput(ArtNetOutput output, SeededRandom random, long phase, long until)
    {
        UdpPath path = output.To is Host to
            ? UdpPath.Unicast(Host, to, ArtNetPackets.Port)
            : UdpPath.Broadcast(Host, Broadcast, ArtNetPackets.Port);
        UniverseId universe = new(UniverseProtocol.ArtNet, output.PortAddress);
        int sequence = output.Counted ? output.FirstSequence : 0;
        long index = 0;
        long last = -1;
        foreach (StreamMoment moment in new StreamClock(output, random, phase, until).Moments([]))
        {
            foreach (SenderRestart restart in output.Restarts.Where(r => r.At > last && r.At <= moment.Time))
            {
                sequence = restart.Sequence;
            }

            last = moment.Time;
            AlternatePacket? other = moment.Alternate;
            byte[] payload = other is null
                ? ArtNetPackets.Dmx(output.PortAddress, sequence, moment.Slots, output.Physical)
                : ArtNetPackets.Nzs(output.PortAddress, sequence, other.StartCode, other.Slots);
            PacketKind kind = other is null ? PacketKind.Levels : PacketKind.Alternate;
            byte[] frame = UdpFrames.Build(path, payload, (int)(index & 0xFFFF));
            yield return new(moment.Time, Name, kind, moment.Reason, universe, sequence, index, frame);
            index++;
            sequence = output.Counted ? (sequence % 255) + 1 : 0;
        }
    }

    private IEnumerable<SentPacket> SendSync(IReadOnlyList<SentPacket> data)
    {
        long due = long.MinValue;
        foreach (SentPacket packet in data)
        {
            if (packet.Time > due)
            {
                due = packet.Time + 1_500_000;
                yield return ToAll(due, PacketKind.Sync, ArtNetPackets.Sync());
            }
        }
    }

    private SentPacket ToAll(long time, PacketKind kind, byte[] payload)
    {
        byte[] frame = UdpFrames.Build(UdpPath.Broadcast(Host, Broadcast, ArtNetPackets.Port), payload);
        return new(time, Name, kind, SendReason.Other, default, 0, 0, frame);
    }
}
