using System.Net;
using DmxProbe.Analysis.Decoding;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Diagnosis;

/// <summary>A sender of streams that may be at fault. It polls where it sends Art-Net.</summary>
/// <param name="name">Its name.</param>
/// <param name="host">Its addresses.</param>
/// <param name="cid">Its CID.</param>
public sealed class FaultSender(string name, Host host, byte[] cid) : SimulatedSender(name, host)
{
    private const long BetweenStreams = 90_000;
    private const long BeforeSync = 2_000_000;
    private static readonly IPAddress Broadcast = IPAddress.Parse("10.255.255.255");

    /// <summary>Whether it polls where it sends Art-Net.</summary>
    public bool Polls { get; init; } = true;

    /// <summary>Its streams.</summary>
    public List<FaultStream> Streams { get; } = [];

    /// <summary>Its CID.</summary>
    public byte[] Cid => cid;

    /// <inheritdoc/>
    public override IEnumerable<SentPacket> Send(SeededRandom random, long until)
    {
        long phase = random.Next(0, 20_000_000);
        List<SentPacket> all = [];
        foreach ((int index, FaultStream stream) in Streams.Index())
        {
            all.AddRange(Send(stream, SeededRandom.For(random.NextBits(), (ulong)index), phase + (index * BetweenStreams), until));
        }

        if (Polls && Streams.Any(stream => stream.Universe.Protocol == UniverseProtocol.ArtNet))
        {
            for (long time = random.Next(50_000_000, 1_000_000_000); time < until; time += random.Next(2_500_000_000, 3_000_000_000))
            {
                all.Add(new(time, Name, PacketKind.Poll, SendReason.Other, default, 0, 0, UdpFrames.Build(UdpPath.Broadcast(Host, Broadcast, ArtNetPackets.Port), ArtNetPackets.Poll())));
            }
        }

        return all.Concat(Synchronization(all));
    }

    private IEnumerable<SentPacket> Send(FaultStream stream, SeededRandom random, long phase, long until)
    {
        long index = 0;
        long nzs = 0;
        int first = (int)random.Next(1, 255);
        foreach (StreamMoment moment in new StreamClock(stream.Plan, random, phase, until).Moments([]))
        {
            byte[] slots = moment.Alternate?.Slots ?? moment.Slots;
            slots = stream.SlotCount is { } count && moment.Alternate is null ? slots[..Math.Min(slots.Length, count(index))] : slots;
            yield return Packet(moment.Time, moment.Alternate is null ? PacketKind.Levels : PacketKind.Alternate, moment.Reason, moment.Alternate?.StartCode ?? 0, slots, 0);
        }

        for (int i = 0; stream.Terminates && stream.Plan.Stop is long stop && i < 3; i++)
        {
            yield return Packet(stop + (i * stream.Plan.Tick) + 1_000_000, PacketKind.Termination, SendReason.Other, 0, new byte[stream.Plan.SlotCount], SacnPackets.StreamTerminated);
        }

        SentPacket Packet(long time, PacketKind kind, SendReason reason, int startCode, byte[] slots, int options)
        {
            bool sacn = stream.Universe.Protocol == UniverseProtocol.Sacn;
            // Art-Net counts ArtNzs apart from ArtDmx.
            bool apart = !sacn && startCode != 0;
            long number = apart ? first + nzs++ : stream.Sequence?.Invoke(index, time) ?? (first + index);
            int sequence = sacn ? (int)(number & 0xFF) : stream.Counted ? (int)(((number - 1) % 255) + 255) % 255 + 1 : 0;
            byte[] payload = sacn
                ? stream.Draft
                    ? SacnPackets.Draft(cid, Name, stream.Universe.Number, sequence, slots, stream.Priority(time), startCode)
                    : SacnPackets.Data(cid, Name, stream.Universe.Number, sequence, slots, stream.Priority(time), stream.SyncAddress, stream.Options | options, startCode)
                : startCode == 0 ? ArtNetPackets.Dmx(stream.Universe.Number, sequence, slots, 0) : ArtNetPackets.Nzs(stream.Universe.Number, sequence, startCode, slots);
            payload = stream.Payload?.Invoke(payload, index) ?? payload;
            UdpPath path = stream.To is { } to ? UdpPath.Unicast(Host, to, sacn ? SacnPackets.Port : ArtNetPackets.Port)
                : sacn ? UdpPath.ToSacnGroup(Host, stream.Group ?? stream.Universe.Number)
                : UdpPath.Broadcast(Host, Broadcast, ArtNetPackets.Port);
            byte[] frame = UdpFrames.Build(path, payload, (int)(index & 0xFFFF));
            frame = stream.Frame?.Invoke(frame, index) ?? frame;
            return new(time, Name, kind, reason, stream.Universe, sequence, apart ? nzs : index++, frame);
        }
    }

    private IEnumerable<SentPacket> Synchronization(List<SentPacket> data)
    {
        foreach (FaultStream stream in Streams.Where(stream => stream.SyncAddress != 0 || stream.SyncPacketAddress is not null))
        {
            int address = stream.SyncPacketAddress ?? stream.SyncAddress;
            int sequence = 0;
            foreach (SentPacket packet in data.Where(packet => packet.Universe == stream.Universe && packet.Kind == PacketKind.Levels).ToArray())
            {
                byte[] payload = SacnPackets.Sync(cid, address, sequence);
                yield return new(packet.Time + BeforeSync, Name, PacketKind.Sync, SendReason.Other, default, sequence, sequence, UdpFrames.Build(stream.To is { } to ? UdpPath.Unicast(Host, to, SacnPackets.Port) : UdpPath.ToSacnGroup(Host, address), payload));
                sequence = (sequence + 1) & 0xFF;
            }
        }
    }
}
