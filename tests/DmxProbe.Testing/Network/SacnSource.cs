using DmxProbe.Analysis.Decoding;
using DmxProbe.Testing.Network.Packets;

namespace DmxProbe.Testing.Network;

/// <summary>An sACN source (E1.31-2018) with any number of universes.</summary>
/// <param name="name">Its source name.</param>
/// <param name="host">Its addresses.</param>
/// <param name="cid">Its CID, 16 octets.</param>
public sealed class SacnSource(string name, Host host, byte[] cid) : SimulatedSender(name, host)
{
    private const long BetweenUniverses = 90_000;
    private const long BeforeSync = 2_000_000;
    private const long DiscoveryInterval = 10_000_000_000;

    /// <summary>Its universes.</summary>
    public IReadOnlyList<SacnStream> Streams { get; init; } = [];

    /// <summary>True to send universe discovery every 10 s (section 4.3).</summary>
    public bool Discovers { get; init; } = true;

    /// <summary>True to send every packet over IPv4 and IPv6 (section 9.1).</summary>
    public bool DualStack { get; init; }

    /// <summary>Its CID.</summary>
    public byte[] Cid { get; } = cid;

    /// <inheritdoc/>
    public override IEnumerable<SentPacket> Send(SeededRandom random, long until)
    {
        long phase = random.Next(0, 20_000_000);
        List<SentPacket> data = [];
        foreach ((int index, SacnStream stream) in Streams.Index())
        {
            SeededRandom own = SeededRandom.For(random.NextBits(), (ulong)stream.Universe);
            data.AddRange(SendStream(stream, own, phase + (index * BetweenUniverses), until));
        }

        return data
            .Concat(SendSync(data))
            .Concat(Discovers ? SendDiscovery(random.Next(200_000_000, 900_000_000), until) : [])
            .SelectMany(Instances);
    }

    private IEnumerable<SentPacket> SendStream(SacnStream stream, SeededRandom random, long phase, long until)
    {
        int sequence = stream.FirstSequence;
        long index = 0;
        long last = -1;
        StreamClock clock = new(stream, random, phase, until);
        foreach (StreamMoment moment in clock.Moments([.. stream.PriorityChanges.Select(c => c.At)]))
        {
            foreach (SenderRestart restart in stream.Restarts.Where(r => r.At > last && r.At <= moment.Time))
            {
                sequence = restart.Sequence;
            }

            last = moment.Time;
            PacketKind kind = moment.Alternate is null ? PacketKind.Levels : PacketKind.Alternate;
            yield return Packet(moment.Time, kind, moment.Reason, 0, moment.Alternate, moment.Slots);
        }

        for (int i = 0; stream.Terminates && stream.Stop is long stop && i < 3; i++)
        {
            long time = Math.Max(stop, last + 1_000_000) + (i * stream.Tick);
            if (time < until)
            {
                byte[] slots = new byte[stream.SlotCount];
                yield return Packet(
                    time, PacketKind.Termination, SendReason.Other, SacnPackets.StreamTerminated, null, slots);
            }
        }

        SentPacket Packet(
            long time, PacketKind kind, SendReason reason, int options, AlternatePacket? alternate, byte[] levels)
        {
            int priority = stream.PriorityAt(time);
            byte[] slots = alternate?.Slots ?? levels;
            int startCode = alternate?.StartCode ?? 0;
            byte[] payload = stream.Draft
                ? SacnPackets.Draft(Cid, Name, stream.Universe, sequence, slots, priority, startCode)
                : SacnPackets.Data(
                    Cid, Name, stream.Universe, sequence, slots, priority, stream.SyncAddress, stream.Options | options,
                    startCode);
            SentPacket packet = new(time, Name, kind, reason, Sacn(stream.Universe), sequence, index++, payload);
            sequence = (sequence + 1) & 0xFF;
            return packet;
        }
    }

    /// <summary>One synchronization packet after each bunch of data packets with the same synchronization address.</summary>
    private IEnumerable<SentPacket> SendSync(List<SentPacket> data)
    {
        foreach (IGrouping<int, SacnStream> group in Streams.Where(s => s.SyncAddress != 0).GroupBy(s => s.SyncAddress))
        {
            HashSet<int> universes = [.. group.Select(s => s.Universe)];
            int sequence = 0;
            long due = long.MinValue;
            foreach (SentPacket packet in data
                .Where(p => p.Kind == PacketKind.Levels && universes.Contains(p.Universe.Number))
                .OrderBy(p => p.Time))
            {
                if (packet.Time > due)
                {
                    due = packet.Time + BeforeSync;
                    byte[] payload = SacnPackets.Sync(Cid, group.Key, sequence);
                    yield return new(
                        due, Name, PacketKind.Sync, SendReason.Other, Sacn(group.Key), sequence, sequence, payload);
                    sequence = (sequence + 1) & 0xFF;
                }
            }
        }
    }

    private IEnumerable<SentPacket> SendDiscovery(long first, long until)
    {
        for (long time = first; time < until; time += DiscoveryInterval)
        {
            int[] universes = [.. Streams
                .Where(s => s.Start <= time && (s.Stop ?? until) > time)
                .SelectMany(s => s.SyncAddress == 0 ? [s.Universe] : new[] { s.Universe, s.SyncAddress })
                .Distinct().Order()];
            int lastPage = Math.Max(0, (universes.Length - 1) / 512);
            for (int page = 0; page <= lastPage; page++)
            {
                int[] part = [.. universes.Skip(page * 512).Take(512)];
                byte[] payload = SacnPackets.Discovery(Cid, Name, part, page, lastPage);
                yield return new(
                    time + (page * BetweenUniverses), Name, PacketKind.Discovery, SendReason.Other,
                    Sacn(SacnPackets.DiscoveryUniverse), 0, 0, payload);
            }
        }
    }

    /// <summary>The frame or, dual stack, the two frames that carry a payload.</summary>
    private IEnumerable<SentPacket> Instances(SentPacket packet)
    {
        int group = packet.Universe.Number;
        int identification = (int)(packet.Index & 0xFFFF);
        UdpPath ipv4 = UdpPath.ToSacnGroup(Host, group);
        yield return packet with { Frame = UdpFrames.Build(ipv4, packet.Frame, identification) };
        if (DualStack)
        {
            UdpPath ipv6 = UdpPath.ToSacnGroup(Host, group, ipv6: true);
            yield return packet with { Time = packet.Time + 20_000, Frame = UdpFrames.Build(ipv6, packet.Frame) };
        }
    }

    private static UniverseId Sacn(int universe) => new(UniverseProtocol.Sacn, universe);
}
