using DmxProbe.Protocols.Records;
using DmxProbe.Testing.Network;
using DmxProbe.Testing.Network.Packets;
using DmxProbe.Testing.Serial;

namespace DmxProbe.Testing.Gateways;

/// <summary>
/// A network with senders and a gateway that puts one universe on a line: latency, jitter, merging, another rate, and what it does after
/// loss. Its merge is written apart from the analyzer's. Gives both taps and the truth.
/// </summary>
/// <param name="seed">Seed of everything random.</param>
public sealed class SimulatedGateway(ulong seed)
{
    private const long SacnLoss = 2_500_000_000;
    private const int Slots = 512;
    private static readonly long Zero = 1_700_000_000_000_000_000;

    /// <summary>Senders on the network, of this and other universes.</summary>
    public List<GatewaySender> Senders { get; } = [];

    /// <summary>The universe on its port.</summary>
    public int Universe { get; init; } = 1;

    /// <summary>How it merges.</summary>
    public GatewayMerge Merge { get; init; } = GatewayMerge.Priority;

    /// <summary>From a packet's arrival to its levels being ready for the line, ns.</summary>
    public long Latency { get; init; } = 4_000_000;

    /// <summary>Up to this much more, ns.</summary>
    public long Jitter { get; init; } = 1_000_000;

    /// <summary>Distance of line packets, ns; 0 sends one for each packet as soon as it is ready.</summary>
    public long LineTick { get; init; } = 25_000_000;

    /// <summary>After this time without a sender it goes dark, ns; null holds.</summary>
    public long? DarkAfter { get; init; }

    /// <summary>After this time without a sender it stops sending, ns; null goes on.</summary>
    public long? StopAfter { get; init; }

    /// <summary>Line clock less network clock, ns.</summary>
    public long ClockOffset { get; init; }

    /// <summary>By how much the line's clock runs fast, parts per million.</summary>
    public double ClockPpm { get; init; }

    /// <summary>The truth: from each packet that changed the output to the first line packet that carried it, ns.</summary>
    public List<long> Latencies { get; } = [];

    /// <summary>What it put on the line: when each packet began, ns, and its slots.</summary>
    public List<(long Time, byte[] Slots)> LinePackets { get; } = [];

    /// <summary>Changes of the output that never reached the line.</summary>
    public int ChangesLeftOut { get; private set; }

    /// <summary>Runs it.</summary>
    /// <param name="duration">Length, ns.</param>
    public (SimulatedSource Network, SerialRecords Line) Run(long duration)
    {
        List<Packet> packets = [.. Senders.SelectMany((sender, index) => Play(sender, index, duration)).OrderBy(packet => packet.Time)];
        SimulatedCapture capture = new(
            Timestamp.FromUnixNanoseconds(Zero), [.. packets.Select((packet, number) => OnTheWire(packet, number))], []);
        return (capture.ToSource(), Line([.. packets.Where(packet => packet.Sender.Universe == Universe)], duration));
    }

    private static IEnumerable<Packet> Play(GatewaySender sender, int index, long duration)
    {
        for (long time = sender.Start + (index * 1_700_000); time < duration; time += sender.Tick)
        {
            if (time < sender.SilentFrom || time >= sender.SilentTo)
            {
                byte[] slots = new byte[Slots];
                sender.Levels(time, slots);
                yield return new Packet(time, sender, index, slots);
            }
        }
    }

    private static SimulatedPacket OnTheWire(Packet packet, int number)
    {
        Host host = Host.At(packet.Sender.Name, $"10.0.0.{packet.Index + 10}");
        byte[] cid = new byte[16];
        cid[0] = (byte)(packet.Index + 1);
        byte[] payload = SacnPackets.Data(cid, packet.Sender.Name, packet.Sender.Universe, number & 0xFF, packet.Slots, packet.Sender.Priority);
        byte[] frame = UdpFrames.Build(UdpPath.ToSacnGroup(host, packet.Sender.Universe), payload, number & 0xFFFF);
        SentPacket sent = new(
            packet.Time, packet.Sender.Name, PacketKind.Levels, SendReason.Other, default, 0, number, frame);
        return new SimulatedPacket(Timestamp.FromUnixNanoseconds(Zero + packet.Time), sent, false);
    }

    private SerialRecords Line(List<Packet> packets, long duration)
    {
        SeededRandom random = new(seed);
        SerialRecords line = new(InterfaceContent.SerialFramed);
        Dictionary<int, (Packet Packet, long[] ChangedAt)> state = [];
        byte[] output = new byte[Slots];
        Queue<(long Ready, Packet Packet)> ready = [];
        long ahead = 0;
        foreach (Packet packet in packets)
        {
            ahead = Math.Max(ahead + 1, packet.Time + Latency + (Jitter > 0 ? random.Next(0, Jitter) : 0));
            ready.Enqueue((ahead, packet));
        }

        long pending = -1;
        long last = long.MinValue;
        long[] moments = LineTick == 0 ? [.. ready.Select(each => each.Ready)] : [.. Ticks(duration, random)];
        foreach (long now in moments)
        {
            while (ready.TryPeek(out (long Ready, Packet Packet) next) && next.Ready <= now)
            {
                ready.Dequeue();
                Packet packet = next.Packet;
                last = packet.Time;
                foreach (int gone in state.Where(each => packet.Time - each.Value.Packet.Time > SacnLoss).Select(each => each.Key).ToArray())
                {
                    state.Remove(gone);
                }

                long[] changedAt = state.TryGetValue(packet.Index, out (Packet Packet, long[] ChangedAt) before) ? before.ChangedAt : new long[Slots];
                for (int slot = 0; slot < Slots; slot++)
                {
                    changedAt[slot] = before.Packet is null || before.Packet.Slots[slot] != packet.Slots[slot] ? packet.Time : changedAt[slot];
                }

                state[packet.Index] = (packet, changedAt);
                byte[] merged = Merged(state, packet);
                if (!merged.AsSpan().SequenceEqual(output) || pending == -1)
                {
                    ChangesLeftOut += pending > 0 ? 1 : 0;
                    pending = packet.Time;
                    output = merged;
                }
            }

            if (last == long.MinValue || (StopAfter is long stop && now - last > stop))
            {
                continue;
            }

            bool isDark = DarkAfter is long dark && now - last > dark;
            byte[] sent = isDark ? new byte[Slots] : output;
            LinePackets.Add((now, sent));
            line.Add(Stamp(now), SerialOctets.Run(SerialOctets.Received(0, sent)));
            if (pending > 0)
            {
                Latencies.Add(now - pending);
                pending = 0;
            }
        }

        return line;
    }

    private IEnumerable<long> Ticks(long duration, SeededRandom random)
    {
        for (long time = random.Next(0, LineTick); time < duration; time += LineTick)
        {
            yield return time;
        }
    }

    private byte[] Merged(Dictionary<int, (Packet Packet, long[] ChangedAt)> state, Packet latest)
    {
        if (Merge == GatewayMerge.Flicker)
        {
            return latest.Slots;
        }

        int top = state.Values.Max(each => each.Packet.Sender.Priority);
        byte[] merged = new byte[Slots];
        for (int slot = 0; slot < Slots; slot++)
        {
            merged[slot] = Merge switch
            {
                GatewayMerge.Priority => state.Values.Where(each => each.Packet.Sender.Priority == top).Max(each => each.Packet.Slots[slot]),
                GatewayMerge.Htp => state.Values.Max(each => each.Packet.Slots[slot]),
                _ => state.Values.MaxBy(each => each.ChangedAt[slot]).Packet.Slots[slot],
            };
        }

        return merged;
    }

    private long Stamp(long time) => Zero + time + ClockOffset + (long)(time * ClockPpm / 1e6);

    private sealed record Packet(long Time, GatewaySender Sender, int Index, byte[] Slots);
}
